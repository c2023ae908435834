import { doubtsSay } from "../../../src/book/records/doubts.ts";
import type { JSX } from "preact";
import { useMemo, useState } from "preact/hooks";
import { CAUTIONS } from "../../../src/book/records/cautions.ts";
import { yearChange } from "../../../src/book/year/year-change.ts";
import { oneStep, type Steps } from "../../../src/book/workbook/steps.ts";
import { partText } from "../../../src/book/year/horizon.ts";
import type { LimitedNeed } from "../../../src/book/year/need.ts";
import { spreadSays } from "../../../src/book/year/use-spread.ts";
import type { UseMonth } from "../../../src/book/year/site-use.ts";
import { missingTexts } from "../../../src/book/year/use.ts";
import { USUAL_WORN, wearLines } from "../../../src/book/year/wear-lines.ts";
import { isPlain } from "../../../src/book/year/what-if.ts";
import { USUAL_YEAR, type Year, yearSteps } from "../../../src/book/year/year.ts";
import type { Day } from "../../../src/core/day.ts";
import { useAnswer } from "../state/answer.ts";
import { Chart, type Point } from "../pictures/chart.tsx";
import { Lines } from "../pieces/pieces.tsx";
import { Figures, Table } from "../pieces/tables.tsx";
import { ProposeButton } from "../pieces/propose-button.tsx";
import type { SectionGiven } from "../pieces/section.ts";
import type { Show } from "../state/show.ts";
import type { Opened, Request } from "../state/state.ts";
import { NOTHING_TYPED, type Typed, WhatIfFields, whatIfOf } from "./what-if.tsx";
import { resultsRequest } from "../state/requests.ts";
import { Waiting } from "../pieces/waiting.tsx";
import { LATER_WORDS } from "../words/later-words.ts";
import { YearPicture } from "../pictures/year-picture.tsx";

const words = LATER_WORDS.ahead;

/** The year ahead, with what somebody supposes. */
export function AheadSection(given: SectionGiven): JSX.Element {
  const { book, show } = given;
  const [typed, setTyped] = useState<Typed>(NOTHING_TYPED);
  const answer = useAnswer(() => yearOf(book, typed), [book, typed]);
  const year = answer.value;
  const isAssumed = year !== null && !isPlain(year.whatIf);
  // What is expected without anything assumed is worked out only where it stands beside something.
  const plain = useAnswer(
    () => (isAssumed ? yearOf(book, NOTHING_TYPED) : oneStep(() => null)),
    [book, isAssumed],
  );
  return (
    <>
      <Waiting answer={answer} />
      {year !== null && (
        <YearShown year={year} plain={isAssumed ? plain.value : null} show={show} />
      )}
      <WhatIfFields typed={typed} put={setTyped} reading={book.reading} />
      <p class="hint">{CAUTIONS.ownSetting}</p>
      <ProposeButton {...given} off={year === null} request={(today) => aheadRequest(typed, today)}>
        {words.show}
      </ProposeButton>
    </>
  );
}

/** The sheets of the year ahead. */
export function aheadRequest(typed: Typed, today: Day): Request {
  return resultsRequest(function* (opened) {
    return yearChange(yield* yearOf(opened, typed));
  }, today);
}

function yearOf({ snapshot, reading }: Opened, typed: Typed): Steps<Year> {
  return yearSteps(snapshot, reading, {
    ...USUAL_YEAR,
    whatIf: whatIfOf(typed, reading),
  });
}

function YearShown({
  year,
  plain,
  show,
}: {
  readonly year: Year;
  readonly plain: Year | null;
  readonly show: Show;
}): JSX.Element {
  const { parts, use, leftOut, estimated, horizon, whatIf } = year;
  const missing = missingTexts(use, show.month).join("; ");
  return (
    <>
      <Lines show={show} all={doubtsSay(year.reading)} />
      <p>{isPlain(whatIf) ? words.plain : words.supposed}</p>
      <Figures
        all={parts.map(({ part, total }) => [
          part.name,
          words.withLimits(
            show.number(total.expected),
            show.number(total.low),
            show.number(total.high),
          ),
        ])}
      />
      <p class="hint">{words.lead(show.percent(horizon.level))}</p>
      <YearPicture {...{ year, plain, show }} />
      <YearTable year={year} show={show} />
      <UseChart year={year} show={show} />
      <WearTold year={year} show={show} />
      <Lines
        show={show}
        all={[
          spreadSays(horizon.spread, use),
          missing === "" ? "" : words.missing(missing),
          ...leftOut.map(words.leftOut),
          estimated.length === 0 ? "" : words.estimated(estimated.join(", ")),
        ]}
      />
    </>
  );
}

/** The same in numbers. */
function YearTable({ year, show }: { readonly year: Year; readonly show: Show }): JSX.Element {
  const { months, parts, horizon } = year;
  const need = (one: LimitedNeed | undefined) =>
    one && (
      <>
        {show.number(one.expected, 1)}
        <small>{` ${show.number(one.low)}–${show.number(one.high)}`}</small>
      </>
    );
  return (
    <details>
      <summary>{words.table}</summary>
      <Table
        caption={words.table}
        numbers
        head={[words.month, ...parts.map(({ part }) => part.name)]}
        rows={[
          ...months.map((month, at) => [
            <>
              {show.month(month)}
              <small>{` ${show.said(partText(at, horizon))}`}</small>
            </>,
            ...parts.map((part) => need(part.months[at])),
          ]),
          [words.total, ...parts.map(({ total }) => need(total))],
        ]}
      />
    </details>
  );
}

/** What the Job log says about wear, and whether the intervals fit it. */
function WearTold({ year, show }: { readonly year: Year; readonly show: Show }): JSX.Element {
  const all = useMemo(
    () => year.parts.flatMap((part) => wearLines(year, part, USUAL_WORN)),
    [year],
  );
  return (
    <details>
      <summary>{words.wear}</summary>
      <Lines show={show} all={all} />
    </details>
  );
}

/** Sessions counted and expected, as a chart and as a table. */
function UseChart({ year, show }: { readonly year: Year; readonly show: Show }): JSX.Element {
  const { history, ahead } = year.use.programme;
  if (ahead.length === 0) return <p>{words.noCounts}</p>;
  const level = show.percent(year.horizon.level);
  const [last, first] = [history.at(-1), ahead[0]];
  const told = (one: UseMonth | undefined): string =>
    one === undefined ? "–" : `${show.number(one.uses)} (${show.month(one.month)})`;
  const highest = [...ahead].sort((one, other) => other.uses - one.uses)[0];
  const limit = (amount: number | null): string => (amount === null ? "" : show.number(amount));
  return (
    <>
      <Chart
        title={words.chart}
        unit={words.unit}
        description={LATER_WORDS.chart.text(told(last), told(first), told(highest))}
        history={history.slice(-24).map(pointOf)}
        ahead={ahead.map(pointOf)}
        mark={year.horizon.reportDate}
        level={level}
        show={show}
      />
      <details>
        <summary>{words.sessions}</summary>
        <Table
          caption={words.sessions}
          numbers
          head={[
            words.month,
            LATER_WORDS.chart.ahead,
            LATER_WORDS.chart.low,
            LATER_WORDS.chart.high,
          ]}
          rows={ahead.map(({ month, uses, low, high }) => [
            show.month(month),
            show.number(uses),
            limit(low),
            limit(high),
          ])}
        />
      </details>
    </>
  );
}

function pointOf({ month, uses, low, high }: UseMonth): Point {
  return { month, amount: uses, low, high };
}
