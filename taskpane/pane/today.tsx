import { registerNames } from "../../src/book/records/registers.ts";
import type { Place } from "../host.ts";
import { doubtsSay } from "../../src/book/records/doubts.ts";
import type { JSX } from "preact";
import { useMemo } from "preact/hooks";
import { CAUTIONS } from "../../src/book/records/cautions.ts";
import { modeOf } from "../../src/book/columns/mode.ts";
import { markOf } from "../../src/book/answers/looks.ts";
import type { Reading } from "../../src/book/records/records.ts";
import { setupReportDate } from "../../src/book/sheets/ours.ts";
import { type DueItem, type Today, todaySteps } from "../../src/book/day/today.ts";
import { oneStep } from "../../src/book/workbook/steps.ts";
import type { Day } from "../../src/core/day.ts";
import { useAnswer } from "./answer.ts";
import type { Desk } from "./desk.ts";
import { Button, Input } from "./form.tsx";
import { onceFetched } from "./later.tsx";
import { Figures, Lines, Long } from "./pieces.tsx";
import type { SectionGiven } from "./section.ts";
import { dayTyped, type Show, typedDay } from "./show.ts";
import { sparesMissing } from "./spares.ts";
import { Waiting } from "./waiting.tsx";
import { WORDS } from "./words.ts";

const words = WORDS.today;

/** What is due, worst first. */
export function TodaySection({ state, book, desk, show }: SectionGiven): JSX.Element {
  const { snapshot, reading } = book;
  const found = useAnswer(() => todaySteps(snapshot, reading), [book]);
  // Whether there are columns already takes as long to find out as the list itself, and can wait for it.
  const mode = useAnswer(
    () => oneStep(() => (found.value === null ? null : modeOf(snapshot, reading))),
    [found.value],
  );
  const { reportDate } = reading.ours.settings;
  const own = setupReportDate(snapshot, reportDate);
  const wallDay = desk.host()?.today() ?? reportDate;
  return (
    <>
      <Waiting answer={found} />
      {found.value !== null && <Counts today={found.value} {...{ reading, show }} />}
      <ReportDate {...{ desk, reportDate, wallDay }} />
      {own !== null && own !== reportDate && <p class="note">{words.setup(show.day(own))}</p>}
      {found.value !== null && <Items items={found.value.items} {...{ reading, desk, show }} />}
      <p class="hint">{CAUTIONS.planningAid}</p>
      <Button
        main={state.proposal === null}
        off={state.busy !== null || found.value === null || mode.working}
        press={() => {
          if (mode.value === null) desk.go("columns");
          else {
            onceFetched(desk, ({ refreshStep }) => {
              void desk.propose("today", { steps: [refreshStep(wallDay)] });
            });
          }
        }}
      >
        {mode.value === null ? words.add : words.refresh}
      </Button>
    </>
  );
}

function Counts({
  today,
  reading,
  show,
}: {
  readonly today: Today;
  readonly reading: Reading;
  readonly show: Show;
}): JSX.Element {
  const spares = useMemo(() => sparesMissing(reading), [reading]);
  return (
    <>
      <Lines all={doubtsSay(reading)} />
      <p>{words.lead(today.devices, registerNames(reading))}</p>
      <Figures
        all={[
          [words.overdue, show.number(today.overdue), today.overdue > 0],
          [words.toCheck, show.number(today.toCheck), today.toCheck > 0],
          [words.dueSoon, show.number(today.dueSoon)],
          [words.inspections, numberOr(today.inspectionsMissing, words.unknown, show)],
          [words.spares, numberOr(spares, words.uncounted, show), (spares ?? 0) > 0],
          [words.notDue, show.number(today.notDue)],
        ]}
      />
    </>
  );
}

function Items({
  items,
  reading,
  desk,
  show,
}: {
  readonly items: readonly DueItem[];
  readonly reading: Reading;
  readonly desk: Desk;
  readonly show: Show;
}): JSX.Element {
  if (items.length === 0) return <p>{words.empty}</p>;
  return (
    <>
      <h3>{words.list}</h3>
      <Long
        label={words.list}
        all={items}
        one={(item) => (
          <ItemButton
            item={item}
            show={show}
            press={() => void desk.select(placeOf(item, reading))}
          />
        )}
      />
    </>
  );
}

/** The cell that names the device of a line. */
function placeOf({ sheet, row }: DueItem, { registers }: Reading): Place {
  const matches = registers.find((one) => one.sheet === sheet)?.matches ?? [];
  return { sheet, row, column: matches.find(({ field }) => field === "device")?.column ?? 0 };
}

/** The day everything is judged on. */
function ReportDate({
  desk,
  reportDate,
  wallDay,
}: {
  readonly desk: Desk;
  readonly reportDate: Day;
  readonly wallDay: Day;
}): JSX.Element {
  return (
    <div class="row">
      <Input
        type="date"
        label={words.date}
        value={typedDay(reportDate)}
        put={(text) => {
          const date = dayTyped(text);
          if (date !== null) void desk.choose({ reportDate: date });
        }}
      />
      <Button
        off={reportDate === wallDay}
        press={() => {
          void desk.choose({ reportDate: null });
        }}
      >
        {words.useToday}
      </Button>
    </div>
  );
}

function numberOr(number: number | null, none: string, show: Show): string {
  return number === null ? none : show.number(number);
}

function ItemButton({
  item,
  show,
  press,
}: {
  readonly item: DueItem;
  readonly show: Show;
  readonly press: () => void;
}): JSX.Element {
  const { state, device, site, part, why } = item;
  return (
    <button type="button" class="item" onClick={press}>
      <strong>
        <span aria-hidden="true">{markOf(state)} </span>
        {state}: {device}
      </strong>
      <span>{[part, site, whenOf(item, show), why].filter((text) => text !== "").join(" · ")}</span>
    </button>
  );
}

/** The due date and the days to it; what is out of use has none left. */
function whenOf({ due, daysLate, outOfUse }: DueItem, show: Show): string {
  if (due === null) return words.noDate;
  if (daysLate === null || (outOfUse && daysLate <= 0)) return show.day(due);
  return `${show.day(due)}, ${daysLate > 0 ? words.late(daysLate) : words.ahead(-daysLate)}`;
}
