import { type Budget, budgetOf } from "../../../src/book/budget/budget.ts";
import { judge } from "../../../src/book/columns/judge.ts";
import { evidenceReport } from "../../../src/book/evidence/report.ts";
import { type Orders, ordersOf } from "../../../src/book/orders/orders.ts";
import { readWorkbook } from "../../../src/book/reading/workbook.ts";
import type { Problem } from "../../../src/book/records/records.ts";
import { BookError } from "../../../src/book/workbook/errors.ts";
import type { Snapshot } from "../../../src/book/workbook/snapshot.ts";
import { NO_WHAT_IF } from "../../../src/book/year/what-if.ts";
import { USUAL_YEAR, yearAhead } from "../../../src/book/year/year.ts";
import { addMonths, type Day, monthStart } from "../../../src/core/day.ts";

/** How parts are told apart. */
export type KeyedBy = "code" | "name";

/** What every job answers of a book. */
export interface Answered {
  readonly problems: readonly Problem[];
  /** By row of the register and code of the part. */
  readonly rows: ReadonlyMap<string, Row>;
  readonly places: readonly Place[];
  /** Days on which units come due in the year, in order, by code of the part. */
  readonly needs: ReadonlyMap<string, readonly Day[]>;
  /** The budget's upper figure without freight, which hangs on how orders fall together. */
  readonly budget: number;
  /** The same of a year that has been running for six months, with what was spent. */
  readonly running: number;
  readonly freight: number;
  readonly openFindings: number;
}

export interface Row {
  readonly state: string;
  readonly due: Day | null;
  readonly interval: number | "";
}

/** A part at a place where spares are kept. */
export interface Place {
  readonly part: string;
  readonly reorderPoint: number;
  /** The last day on which the first order may go out. */
  readonly orderBy: Day | null;
}

/** A book that is refused says why in a sentence. */
export interface Refused {
  readonly refused: string;
}

/** A job ended in an error of ours: never right. */
export interface Crashed {
  readonly crashed: string;
}

/** Every job over a book. */
export function answersTo(
  snapshot: Snapshot,
  today: Day,
  by: KeyedBy,
): Answered | Refused | Crashed {
  try {
    return answered(snapshot, today, by);
  } catch (error) {
    if (error instanceof BookError) return { refused: error.message };
    return { crashed: String(error) };
  }
}

function answered(snapshot: Snapshot, today: Day, by: KeyedBy): Answered {
  const reading = readWorkbook(snapshot, today);
  const judged = judge(snapshot, reading);
  const rows = judged.parts.flatMap((part) =>
    judged
      .rows(part)
      .map(({ device, answers }): [string, Row] => [`${device.row} ${part[by]}`, answers]),
  );
  const year = yearAhead(snapshot, reading, { ...USUAL_YEAR, whatIf: NO_WHAT_IF });
  const orders = ordersOf(year, false);
  const usual = { from: null, level: null, pooled: false, births: false, whatIf: NO_WHAT_IF };
  const budget = budgetOf(snapshot, reading, usual);
  const freight = freightOf(budget);
  const from = addMonths(monthStart(reading.ours.settings.reportDate), -6);
  const running = budgetOf(snapshot, reading, { ...usual, from });
  const evidence = evidenceReport(snapshot, reading, { from: null, to: null, sites: [] });
  return {
    problems: reading.problems,
    rows: new Map(rows),
    places: placesIn(orders, by),
    needs: scheduledIn(orders, by),
    budget: budget.incomplete.length > 0 ? Infinity : budget.upper - freight,
    running: running.whole === null ? Infinity : running.whole.upper - freightOf(running),
    freight: budget.incomplete.length > 0 ? Infinity : freight,
    openFindings: evidence.findings.filter(({ closed }) => closed === null).length,
  };
}

function freightOf({ freight }: Budget): number {
  return freight.reduce((sum, cost) => sum + cost, 0);
}

function placesIn({ places, lines }: Orders, by: KeyedBy): Place[] {
  return places.map((place) => {
    const own = lines.filter((line) => line.place === place).map(({ orderBy }) => orderBy);
    return {
      part: place.part[by],
      reorderPoint: place.safetyStock,
      orderBy: own.length === 0 ? null : (Math.min(...own) as Day),
    };
  });
}

function scheduledIn({ places }: Orders, by: KeyedBy): Map<string, Day[]> {
  const found = new Map<string, Day[]>();
  for (const { part, due } of places) {
    found.set(
      part[by],
      [...(found.get(part[by]) ?? []), ...due].sort((one, other) => one - other),
    );
  }
  return found;
}
