import type { JSX } from "preact";
import { useMemo, useState } from "preact/hooks";
import { modeOf } from "../../../src/book/columns/mode.ts";
import { type Today, todaySteps } from "../../../src/book/day/today.ts";
import { PLANNING_AID } from "../../../src/book/records/planning-aid.ts";
import { doubtsSay } from "../../../src/book/records/doubts.ts";
import { registerNames } from "../../../src/book/records/registers.ts";
import { setupReportDate } from "../../../src/book/sheets/ours.ts";
import { oneStep } from "../../../src/book/workbook/steps.ts";
import type { Day } from "../../../src/core/day.ts";
import { useAnswer } from "../state/answer.ts";
import type { Desk } from "../state/desk.ts";
import type { Due } from "./due-line.tsx";
import { DueList } from "./due-list.tsx";
import { Button, Input } from "../pieces/form.tsx";
import { InFoot } from "../pieces/in-foot.tsx";
import { onceFetched } from "./later.tsx";
import { NextStep } from "./next-step.tsx";
import { Lines } from "../pieces/pieces.tsx";
import { second } from "../state/second.ts";
import type { SectionGiven } from "../pieces/section.ts";
import { dayTyped, type Show, typedDay } from "../state/show.ts";
import { type Filter, Tiles } from "./tiles.tsx";
import { Waiting } from "../pieces/waiting.tsx";
import { WORDS } from "../words/words.ts";

const words = WORDS.today;

/** What is due, worst first, and what can be done about it. */
export function TodaySection(given: SectionGiven): JSX.Element {
  const { state, book, desk, show } = given;
  const { snapshot, reading } = book;
  const found = useAnswer(
    () => todaySteps(snapshot, reading),
    // What is told later changes no device.
    [reading.devices],
  );
  // Whether there are columns already takes as long to find out as the list itself, and can wait for it.
  const mode = useAnswer(
    () => oneStep(() => (found.value === null ? null : modeOf(snapshot, reading))),
    [found.value],
  );
  const [busyLogging, setLogging] = useState(false);
  const { reportDate } = reading.ours.settings;
  const own = setupReportDate(snapshot, reportDate);
  const wallDay = desk.host()?.today() ?? reportDate;
  return (
    <>
      <Waiting answer={found} />
      <div class="lead">
        {found.value !== null && (
          <p class="hint">{words.lead(found.value.devices, registerNames(reading))}</p>
        )}
        <ReportDate {...{ desk, reportDate, wallDay, show }} />
      </div>
      <Lines show={show} all={doubtsSay(reading)} />
      {own !== null && own !== reportDate && <p class="note">{words.setup(show.day(own))}</p>}
      {found.value !== null && <Decisions {...given} today={found.value} logging={setLogging} />}
      <p class="hint">{PLANNING_AID}</p>
      {state.proposal === null && !busyLogging && (
        <InFoot>
          <Button
            main
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
        </InFoot>
      )}
    </>
  );
}

/** The tiles, and the list they choose from. */
function Decisions({
  today,
  logging,
  ...given
}: SectionGiven & {
  readonly today: Today;
  readonly logging: (on: boolean) => void;
}): JSX.Element {
  const { book, desk } = given;
  const [filter, setFilter] = useState<Filter>("all");
  const spares = useMemo(() => second.there()?.sparesMissing(book.reading) ?? null, [book]);
  const all = chosen(today, filter);
  // What a tile chose may be done by now.
  const shown = all.length === 0 ? today.items : all;
  return (
    <>
      <NextStep {...given} today={today} />
      <Tiles
        {...{ today, spares, filter: shown === all ? filter : "all" }}
        put={setFilter}
        order={() => {
          desk.go("order");
        }}
      />
      {shown.length > 0 && <DueList key={filter} all={shown} logging={logging} {...given} />}
    </>
  );
}

function chosen({ items, toInspect }: Today, filter: Filter): readonly Due[] {
  if (filter === "inspect") return toInspect;
  return filter === "all" ? items : items.filter(({ state }) => state === filter);
}

/** The day everything is judged on. */
function ReportDate({
  desk,
  reportDate,
  wallDay,
  show,
}: {
  readonly desk: Desk;
  readonly reportDate: Day;
  readonly wallDay: Day;
  readonly show: Show;
}): JSX.Element {
  return (
    <details>
      <summary class="hint">{words.asOf(show.day(reportDate))}</summary>
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
    </details>
  );
}
