import type { JSX } from "preact";
import { markOf } from "../../../src/book/answers/marks.ts";
import type { DueItem, ToInspect } from "../../../src/book/day/today.ts";
import { unitNamed } from "../../../src/book/records/positions.ts";
import type { Reading } from "../../../src/book/records/records.ts";
import type { Place } from "../../host.ts";
import { Button } from "../pieces/form.tsx";
import type { Show } from "../state/show.ts";
import { SIGNS } from "./tiles.tsx";
import { WORDS } from "../words/words.ts";

const words = WORDS.today;

/** A line of the list: something due, or an inspection of the week. */
export type Due = DueItem | ToInspect;

/** The jobs that a line offers. */
export type DueJob = "replaced" | "inspected";

/** The two actions of a line; a dated task is calibrated, not replaced. */
export function Actions({
  line: { unit, device, part },
  reading,
  off,
  press,
}: {
  readonly line: Due;
  readonly reading: Reading;
  readonly off: boolean;
  readonly press: (job: DueJob) => void;
}): JSX.Element {
  const isTask = unitNamed(reading.ours.parts, unit)?.part.task === true;
  const action = (job: DueJob, text: string): JSX.Element => (
    <Button
      off={off}
      press={() => {
        press(job);
      }}
    >
      {text}
      <span class="unseen">{` ${device}, ${part}`}</span>
    </Button>
  );
  return (
    <div class="doing">
      {action("replaced", isTask ? words.calibrated : words.replaced)}
      {!isTask && action("inspected", words.inspected)}
    </div>
  );
}

/** What a line says; pressed, its row is shown. */
export function LineText({
  line,
  show,
  press,
}: {
  readonly line: Due;
  readonly show: Show;
  readonly press: () => void;
}): JSX.Element {
  const { device, site, part } = line;
  const due = "state" in line ? line : null;
  const rest = due === null ? [] : [whenOf(due, show), show.said(due.why)];
  return (
    <button type="button" class={`item ${due === null ? "" : SIGNS[due.state]}`} onClick={press}>
      <strong>
        {due !== null && (
          <span class="sign">
            <span aria-hidden="true">{markOf(due.state)} </span>
            {`${due.state}: `}
          </span>
        )}
        {device}
      </strong>
      <span>{[part, site, ...rest].filter((text) => text !== "").join(" · ")}</span>
    </button>
  );
}

/** The cell that names the device of a line. */
export function placeOf({ sheet, row }: Due, { registers }: Reading): Place {
  const matches = registers.find((one) => one.sheet === sheet)?.matches ?? [];
  return { sheet, row, column: matches.find(({ field }) => field === "device")?.column ?? 0 };
}

/** The due date and the days to it; what is out of use has none left. */
function whenOf({ due, daysLate, outOfUse }: DueItem, show: Show): string {
  if (due === null) return words.noDate;
  if (daysLate === null || (outOfUse && daysLate <= 0)) return show.day(due);
  return `${show.day(due)}, ${daysLate > 0 ? words.late(daysLate) : words.ahead(-daysLate)}`;
}
