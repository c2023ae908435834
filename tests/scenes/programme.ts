import type { Ours, Part, Reading, Site, Supply } from "../../src/book/records/records.ts";
import { DEFAULT_PARTS } from "../../src/book/records/parts.ts";
import { bareSite } from "../../src/book/sheets/sites.ts";
import type { CellValue, Snapshot } from "../../src/book/workbook/snapshot.ts";
import { NO_WHAT_IF, type WhatIf } from "../../src/book/year/what-if.ts";
import { type Year, yearAhead } from "../../src/book/year/year.ts";
import { addMonths, day, isoText, monthStart } from "../../src/core/day.ts";
import { bookOf, on, oursOf, readSheets, sheetOf, type Typed } from "./scene.ts";
import type { Settings } from "../../src/book/records/settings.ts";

/** Small programmes by hand: judged on 2026-07-06, sets 3 to 6 months by a use budget of 180. */
export const JULY = day("2026-07-06");

/** A device as its row is typed. */
export interface Typical {
  readonly id: string;
  readonly site?: string;
  readonly status?: string;
  readonly retiredOn?: Typed;
  readonly set?: Typed;
  readonly cushion?: Typed;
  /** Counts of the months that ended before the report date, the last one last. */
  readonly counts?: readonly CellValue[];
}

/** What differs from the small programme's usual. */
export interface Different {
  readonly settings?: Partial<Settings>;
  readonly parts?: readonly Part[];
  readonly sites?: readonly Site[];
  readonly ours?: Partial<Omit<Ours, "settings">>;
  /** The counts in one row a device and month; blanks have no row. */
  readonly long?: boolean;
}

export interface Small {
  readonly snapshot: Snapshot;
  readonly reading: Reading;
}

/** The usual parts: sets with a use budget, cushions of vinyl with a ramp; both bought one by one. */
export function partsWith(set: Partial<Supply> = {}, cushion: Partial<Supply> = {}): Part[] {
  const supply = { packPrice: 100, leadDays: 30, supplier: "One" };
  return DEFAULT_PARTS.filter(({ task }) => !task).map((part) =>
    part.code === "SET"
      ? { ...part, useBudget: 180, supply: { ...part.supply, ...supply, ...set } }
      : { ...part, lightUse: 20, heavyUse: 60, supply: { ...part.supply, ...supply, ...cushion } },
  );
}

/** A site with what is said of it. */
export function siteWith(code: string, more: Partial<Site> = {}): Site {
  return { ...bareSite(code), wipes: "alcohol-free", ...more };
}

/** The programme of these devices. */
export function small(devices: readonly Typical[], different: Different = {}): Small {
  const most = Math.max(2, ...devices.map(({ counts = [] }) => counts.length));
  const months = Array.from({ length: most }, (_, at) => addMonths(monthStart(JULY), at - most));
  const register = sheetOf("Equipment", [
    ["Device", "Site", "Status", "Retired on", "Electrode set replaced", "Ear cushion replaced"],
    ...devices.map(({ id, site = "S01", status = "In service", retiredOn = null, ...done }) => [
      ...[id, site, status, retiredOn],
      ...[done.set ?? on("2026-05-20"), done.cushion ?? on("2026-05-20")],
    ]),
  ]);
  const cellOf = ({ counts = [] }: Typical, at: number): CellValue =>
    counts[at - most + counts.length] ?? null;
  const wide = sheetOf("Monthly sessions", [
    ["Device", ...months.map((month) => on(isoText(month)))],
    ...devices.map((device) => [device.id, ...months.map((_, at) => cellOf(device, at))]),
  ]);
  const long = sheetOf("Monthly sessions", [
    ["Device", "Month", "Sessions"],
    ...devices.flatMap((device) =>
      months.flatMap((month, at): Typed[][] => {
        const cell = cellOf(device, at);
        return cell === null ? [] : [[device.id, on(isoText(month)), cell]];
      }),
    ),
  ]);
  const counted = devices.some(({ counts = [] }) => counts.length > 0);
  const sheets = counted ? [register, different.long === true ? long : wide] : [register];
  const codes = [...new Set(devices.map(({ site = "S01" }) => site))].filter((code) => code !== "");
  const ours = oursOf(
    { reportDate: JULY, ...different.settings },
    {
      parts: different.parts ?? partsWith(),
      sites: different.sites ?? codes.map((code) => siteWith(code)),
      ...different.ours,
    },
  );
  return { snapshot: bookOf(sheets), reading: readSheets(sheets, ours) };
}

/** Its year ahead. */
export function yearOf(
  { snapshot, reading }: Small,
  whatIf: Partial<WhatIf> = {},
  more: { readonly months?: number; readonly births?: boolean } = {},
): Year {
  const { months = 12, births = false } = more;
  const all = { ...NO_WHAT_IF, ...whatIf };
  return yearAhead(snapshot, reading, { months, level: 0.9, births, whatIf: all });
}

/** The year of one part; throws where the programme has none of it. */
export function partOf(year: Year, code: string): Year["parts"][number] {
  const found = year.parts.find(({ part }) => part.code === code);
  if (found === undefined) throw new Error(`no ${code}`);
  return found;
}
