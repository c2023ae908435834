import type { JSX } from "preact";
import { weekStart } from "../../../src/core/day.ts";
import { markOf } from "../../../src/book/answers/marks.ts";
import type { DueItem, Today } from "../../../src/book/day/today.ts";
import { WORDS } from "../words/words.ts";

const words = WORDS.today;

/** What of the list is shown. */
export type Filter = "all" | "inspect" | DueItem["state"];

/** How a state is told by colour, after its word and its shape. */
export const SIGNS: Readonly<Record<DueItem["state"], string>> = {
  Overdue: "late",
  "Check row": "check",
  "Due soon": "soon",
};

interface Given {
  readonly today: Today;
  /** Places short of spares; null where nothing is counted. */
  readonly spares: number | null;
  readonly filter: Filter;
  readonly put: (filter: Filter) => void;
  readonly order: () => void;
}

/** What there is to decide, counted: each shows its part of the list, spares open Order. Nothing says nought. */
export function Tiles({ today, spares, filter, put, order }: Given): JSX.Element {
  const inspect = new Set(today.toInspect.map(({ device }) => device)).size;
  const tile = (name: Exclude<Filter, "all">, count: number, text: string, sign: string) =>
    count > 0 && (
      <button
        type="button"
        class={sign}
        aria-pressed={filter === name}
        onClick={() => {
          put(filter === name ? "all" : name);
        }}
      >
        <b>
          <span aria-hidden="true">{markOf(name)}</span> {count}
        </b>{" "}
        <span>{text}</span>
      </button>
    );
  return (
    <div class="figures" role="group" aria-label={words.tiles}>
      {tile("Overdue", today.overdue, words.overdue(today.overdue), SIGNS.Overdue)}
      {tile("Check row", today.toCheck, words.toCheck(today.toCheck), SIGNS["Check row"])}
      {tile("Due soon", today.dueSoon, words.dueSoon(today.dueSoon), SIGNS["Due soon"])}
      {tile("inspect", inspect, words.inspect(inspect), isLate(today) ? "soon" : "")}
      {spares !== null && spares > 0 && (
        <button type="button" onClick={order}>
          <b>{spares}</b> <span>{words.spares(spares)}</span>
        </button>
      )}
    </div>
  );
}

/** From Friday on a week's inspections that are not done are worth a sign; before that they are work ahead. */
function isLate({ reportDate }: Today): boolean {
  return reportDate - weekStart(reportDate) >= 4;
}
