import { fault } from "../records/problems.ts";
import type { Device, Ours, Problem, ShelfItem } from "../records/records.ts";
import { judgedShelf } from "../records/shelf.ts";
import { headingColumn } from "../sheets/layout.ts";
import { shelfHeading } from "../sheets/shelf.ts";
import { sheetNamed, type Snapshot } from "../workbook/snapshot.ts";

/** What of the Shelf does not count, each with its cell. */
export function shelfProblems(
  snapshot: Snapshot,
  ours: Ours,
  devices: readonly Pick<Device, "site" | "retired">[],
): Problem[] {
  return judgedShelf({ ours, devices }).flatMap(({ item, doubts }) =>
    doubts.map(({ kind, field, cause, fix }) =>
      fault(kind, placeOf(snapshot, item, field), `${cause}.`, `${capital(fix)}.`),
    ),
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
