import type { Answered, Crashed, Place, Refused, Row } from "./answers.ts";

/** From the calmest to the least calm; a row to check is never calmer than what it hides. */
const CALM = ["Retired", "Not due", "Due soon", "Overdue", "Check row"];

/** The wear seen is an estimate: with a row of the log less it moves either way. */
const WEAR_SHARE = 0.03;

/** Which promise is broken. */
export type Promised = "row" | "place" | "need" | "budget" | "evidence" | "end";

/** What became less careful than with the true input. */
export interface Less {
  readonly of: Promised;
  readonly what: string;
}

/** Everything that became less careful than with the true input. */
export function lessCareful(truth: Answered, doubtful: Answered | Refused | Crashed): Less[] {
  if ("crashed" in doubtful) return [{ of: "end", what: doubtful.crashed }];
  if ("refused" in doubtful) {
    return doubtful.refused === "" ? [{ of: "end", what: "refused without a word" }] : [];
  }
  return [
    ...less("row", rows(truth, doubtful)),
    ...less("place", places(truth, doubtful)),
    ...less("need", needs(truth, doubtful)),
    ...less("budget", budgets(truth, doubtful)),
    ...less(
      "evidence",
      doubtful.openFindings < truth.openFindings ? ["an open finding is gone"] : [],
    ),
  ];
}

function less(of: Promised, all: readonly string[]): Less[] {
  return all.map((what) => ({ of, what }));
}

/** What is needed earlier is bought before the fiscal year: then the year's sum may be lower. */
function budgets(truth: Answered, doubtful: Answered): string[] {
  if (doubtful.freight === 0 && truth.freight > 0) return ["no freight is left"];
  return (["budget", "running"] as const).flatMap((which) => {
    const [was, is] = [truth[which], doubtful[which]];
    const isLower = is < was * (1 - WEAR_SHARE);
    return isLower && !isEarlier(truth, doubtful) ? [`${which} ${was} to ${is}`] : [];
  });
}

function isEarlier(truth: Answered, doubtful: Answered): boolean {
  return [...truth.needs].some(([part, days]) =>
    days.some((day, nth) => (doubtful.needs.get(part)?.[nth] ?? Infinity) < day),
  );
}

function rows(truth: Answered, doubtful: Answered): string[] {
  return [...truth.rows].flatMap(([key, row]) => {
    const now = doubtful.rows.get(key);
    if (now === undefined) return isNamed(doubtful, key) ? [] : [`row ${key} is gone`];
    return rowLess(row, now).map((what) => `row ${key}: ${what}`);
  });
}

function rowLess(truth: Row, now: Row): string[] {
  const found: string[] = [];
  if (CALM.indexOf(now.state) < CALM.indexOf(truth.state) && !isChecked(truth, now)) {
    found.push(`${truth.state} to ${now.state}`);
  }
  if (truth.due !== null && now.due !== null && now.due > truth.due) {
    found.push(`due ${now.due - truth.due} days later`);
  }
  if (typeof truth.interval === "number" && typeof now.interval === "number") {
    if (now.interval > truth.interval) found.push(`${truth.interval} to ${now.interval} months`);
  }
  return found;
}

/** A row whose date was missing has a date now: that is judged, not calmed. */
function isChecked(truth: Row, now: Row): boolean {
  return truth.state === "Check row" && now.state === "Overdue";
}

/** Whether a problem stands at the row, which the list then no longer holds. */
function isNamed({ problems }: Answered, key: string): boolean {
  const row = Number(key.split(" ")[0]);
  return problems.some((problem) => problem.row === row);
}

function places(truth: Answered, doubtful: Answered): string[] {
  const parts = new Set(truth.places.map(({ part }) => part));
  return [...parts].flatMap((part) => {
    const [there, here] = [truth, doubtful].map((all) =>
      all.places.filter((one) => one.part === part),
    );
    if (here?.length === 0) return [`no order place of ${part} is left`];
    return placeLess(there ?? [], here ?? []).map((what) => `${part}: ${what}`);
  });
}

function placeLess(truth: readonly Place[], now: readonly Place[]): string[] {
  const sum = (all: readonly Place[], of: (place: Place) => number): number =>
    all.reduce((before, place) => before + of(place), 0);
  const first = (all: readonly Place[]): number =>
    Math.min(...all.map(({ orderBy }) => orderBy ?? Infinity));
  const found: string[] = [];
  const [points, pointsNow] = [truth, now].map((all) =>
    sum(all, ({ reorderPoint }) => reorderPoint),
  );
  if ((pointsNow ?? 0) < (points ?? 0)) found.push(`reorder point ${points} to ${pointsNow}`);
  if (first(now) > first(truth)) found.push(`first order ${first(now) - first(truth)} days later`);
  return found;
}

/** The nth unit comes due no later, and there are no fewer of them. */
function needs(truth: Answered, doubtful: Answered): string[] {
  return [...truth.needs].flatMap(([part, days]) => {
    const now = doubtful.needs.get(part) ?? [];
    const at = days.findIndex((day, nth) => (now[nth] ?? Infinity) > day);
    const late = (now[at] ?? Infinity) - (days[at] ?? 0);
    return at < 0 ? [] : [`unit ${at + 1} of ${part} needed ${late} days later`];
  });
}

/** Whether `check` tells what it does not tell of the true book. */
export function isTold(truth: Answered, doubtful: Answered | Refused | Crashed): boolean {
  if (!("problems" in doubtful)) return true;
  const known = new Set(truth.problems.map(({ cause }) => cause));
  return doubtful.problems.some(({ cause }) => !known.has(cause));
}
