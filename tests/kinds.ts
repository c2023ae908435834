import { readFileSync } from "node:fs";
import { table } from "../functions/help.ts";

/** What comes of a job: done with nothing to tell of the rows, done and told, or refused. */
export type Outcome = "ok" | "told" | "refused";

/** What comes of a kind of workbook. */
export interface KindTold {
  readonly jobs: Readonly<Record<string, Outcome>>;
  /** Kinds of problem that check tells. */
  readonly told: readonly string[];
  /** Why it is refused, "" where it is not. */
  readonly refused: string;
}

/** What the test of the kinds holds its findings against. */
export const LISTED_KINDS = "tests/reference/kinds.json";

interface Item {
  readonly device: string;
  readonly part: string;
  readonly state: string;
}

const SEVERITY = ["Overdue", "Check row", "Due soon"];

/** What a list shows less urgently than another one, position by position of a part; Check row is never calmer. */
export function isLessCalm(items: readonly Item[], wanted: readonly Item[]): string[] {
  const same = (one: Item, other: Item): boolean =>
    one.device === other.device && one.part.split(",", 1)[0] === other.part.split(",", 1)[0];
  return wanted.flatMap((one) => {
    const least = items.find(
      (other) =>
        same(other, one) &&
        (other.state === "Check row" ||
          SEVERITY.indexOf(other.state) <= SEVERITY.indexOf(one.state)),
    );
    return least === undefined ? [`${one.device} ${one.part} ${one.state}`] : [];
  });
}

/** The table of docs/workbooks.md: every kind of workbook and what comes of every job, then why. */
export function kindsTable(): string {
  const found = JSON.parse(readFileSync(LISTED_KINDS, "utf8")) as Record<string, KindTold>;
  const [any] = Object.values(found);
  const jobs = Object.keys(any?.jobs ?? {});
  const rows = Object.entries(found).map(([kind, one]) => [
    kind,
    ...jobs.map((job) => one.jobs[job] ?? ""),
  ]);
  const reasons = Object.entries(found).flatMap(([kind, { told, refused }]) => {
    const why = refused === "" ? told.join(", ") : refused;
    return why === "" ? [] : [`- _${kind}_: ${why}`];
  });
  return `${table(["workbook", ...jobs], rows)}\n\n${reasons.join("\n")}\n`;
}
