import type { JSX } from "preact";
import { useMemo } from "preact/hooks";
import { CAUTIONS } from "../../src/book/cautions.ts";
import { modeOf } from "../../src/book/columns-plan.ts";
import { markOf } from "../../src/book/looks.ts";
import { setupReportDate } from "../../src/book/ours.ts";
import { type DueItem, todayOf } from "../../src/book/today.ts";
import type { Day } from "../../src/core/day.ts";
import type { Place } from "../host.ts";
import type { Desk } from "./desk.ts";
import { Button, Input } from "./form.tsx";
import { Figures, Long } from "./pieces.tsx";
import type { SectionGiven } from "./section.ts";
import { dayTyped, type Show, typedDay } from "./show.ts";
import { sparesMissing } from "./spares.ts";
import { refreshStep } from "./wishes.ts";
import { WORDS } from "./words.ts";

const words = WORDS.today;

/** What is due, worst first. */
export function TodaySection({ state, book, desk, show }: SectionGiven): JSX.Element {
  const { snapshot, reading } = book;
  const today = useMemo(() => todayOf(snapshot, reading), [book]);
  const spares = useMemo(() => sparesMissing(reading), [book]);
  const mode = useMemo(() => modeOf(snapshot, reading), [book]);
  const { reportDate } = reading.ours.settings;
  const own = setupReportDate(snapshot, reportDate);
  const column = reading.register.matches.find(({ field }) => field === "device")?.column ?? 0;
  const placeOf = ({ row }: DueItem): Place => ({ sheet: reading.register.sheet, row, column });
  const wallDay = desk.host()?.today() ?? reportDate;
  return (
    <>
      <p>{words.lead(today.devices, reading.register.sheet)}</p>
      <Figures
        all={[
          [words.overdue, show.number(today.overdue), today.overdue > 0],
          [words.toCheck, show.number(today.toCheck), today.toCheck > 0],
          [words.dueSoon, show.number(today.dueSoon)],
          [words.inspections, counted(today.inspectionsMissing, words.unknown, show)],
          [words.spares, counted(spares, words.uncounted, show), (spares ?? 0) > 0],
          [words.notDue, show.number(today.notDue)],
        ]}
      />
      <ReportDate {...{ desk, reportDate, wallDay }} />
      {own !== null && own !== reportDate && <p class="note">{words.setup(show.day(own))}</p>}
      {today.items.length === 0 ? (
        <p>{words.empty}</p>
      ) : (
        <>
          <h3>{words.list}</h3>
          <Long
            label={words.list}
            all={today.items}
            one={(item) => (
              <ItemButton item={item} show={show} press={() => void desk.select(placeOf(item))} />
            )}
          />
        </>
      )}
      <p class="hint">{CAUTIONS[0]}</p>
      <Button
        main={state.proposal === null}
        off={state.busy !== null}
        press={() => {
          if (mode === null) desk.go("columns");
          else void desk.propose("today", { steps: [refreshStep(wallDay)] });
        }}
      >
        {mode === null ? words.add : words.refresh}
      </Button>
    </>
  );
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
          if (date !== null) desk.choose({ reportDate: date });
        }}
      />
      <Button
        off={reportDate === wallDay}
        press={() => {
          desk.choose({ reportDate: null });
        }}
      >
        {words.useToday}
      </Button>
    </div>
  );
}

function counted(number: number | null, none: string, show: Show): string {
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
  const { state, device, site, part, due, daysLate, why } = item;
  const when =
    due === null
      ? words.noDate
      : [
          show.day(due),
          daysLate === null ? "" : daysLate > 0 ? words.late(daysLate) : words.ahead(-daysLate),
        ].join(", ");
  return (
    <button type="button" class="item" onClick={press}>
      <strong>
        <span aria-hidden="true">{markOf(state)} </span>
        {state}: {device}
      </strong>
      <span>{[part, site, when, why].filter((text) => text !== "").join(" · ")}</span>
    </button>
  );
}
