import { fault } from "../../records/problems.ts";
import type { Device, Ours, Problem, ShelfItem } from "../../records/records.ts";
import { judgedShelf } from "../../records/shelf.ts";
import { siteOf } from "../../records/site-names.ts";
import { headingColumn } from "../../sheets/layout.ts";
import { shelfHeading } from "../../sheets/shelf.ts";
import { quoted } from "../../workbook/cells.ts";
import { sheetNamed, type Snapshot } from "../../workbook/snapshot.ts";

/** What of the Shelf does not count, each with its cell. */
export function shelfProblems(
  snapshot: Snapshot,
  ours: Ours,
  devices: readonly Pick<Device, "site" | "retired">[],
): Problem[] {
  const places = new Set([
    ...["", ...ours.sites.map(({ code }) => code.trim())],
    ...devices.map(({ site }) => siteOf(ours.sites, site)),
  ]);
  return judgedShelf({ ours, devices }).flatMap(({ item, site, doubts }) => [
    ...doubts.map(({ kind, field, cause, fix }) =>
      fault(kind, placeOf(snapshot, item, field), `${cause}.`, `${capital(fix)}.`),
    ),
    ...(places.has(site) ? [] : [nowhere(placeOf(snapshot, item, "site"), item)]),
  ]);
}

/** Stock at a site without devices serves none. */
function nowhere(place: ReturnType<typeof placeOf>, { site }: ShelfItem): Problem {
  const cause = `No device is at ${quoted(site)}, so what lies there serves none.`;
  return fault(
    "shelf site",
    place,
    cause,
    "Write the site as the devices have it, or none for the store.",
  );
}

function placeOf(snapshot: Snapshot, { sheet, row }: ShelfItem, field: keyof ShelfItem) {
  const found = sheetNamed(snapshot, sheet);
  const heading = shelfHeading(field);
  const column = found === null ? null : headingColumn(found, heading);
  return { sheet, row, column, heading: column === null ? "" : heading };
}

function capital(text: string): string {
  return text.slice(0, 1).toUpperCase() + text.slice(1);
}
