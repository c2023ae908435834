import { doubtsSay } from "../../../src/book/records/doubts.ts";
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { type Budget, budgetSteps } from "../../../src/book/budget/budget.ts";
import { sumOf } from "../../../src/book/budget/money.ts";
import { budgetSays, enoughWith, incompleteSays } from "../../../src/book/budget/says.ts";
import { BookError } from "../../../src/book/workbook/errors.ts";
import { CAUTIONS } from "../../../src/book/records/cautions.ts";
import { budgetChange } from "../../../src/book/budget/budget-change.ts";
import { mayBegin } from "../../../src/book/budget/fiscal.ts";
import type { Steps } from "../../../src/book/workbook/steps.ts";
import { NO_WHAT_IF } from "../../../src/book/year/what-if.ts";
import type { Day } from "../../../src/core/day.ts";
import { useAnswer } from "../state/answer.ts";
import { Bars } from "../pictures/bars.tsx";
import { Bridge } from "../pictures/budget-bridge.tsx";
import { Input } from "../pieces/form.tsx";
import { Tick } from "../pieces/ticks.tsx";
import { Lines } from "../pieces/pieces.tsx";
import { Figures, Table } from "../pieces/tables.tsx";
import { ProposeButton } from "../pieces/propose-button.tsx";
import type { SectionGiven } from "../pieces/section.ts";
import { dayTyped, numberTyped, type Show } from "../state/show.ts";
import type { Opened, Request } from "../state/state.ts";
import { Waiting } from "../pieces/waiting.tsx";
import { resultsRequest } from "../state/requests.ts";
import { LATER_WORDS } from "../words/later-words.ts";

const words = LATER_WORDS.budget;

interface Asked {
  readonly from: string;
  readonly level: string;
  readonly pooled: boolean;
  readonly births: boolean;
}

/** The next fiscal year, as Setup says. */
export const NOTHING_ASKED: Asked = { from: "", level: "", pooled: false, births: false };

/** What the fiscal year costs. */
export function BudgetSection(given: SectionGiven): JSX.Element {
  const { book, show } = given;
  const [asked, setAsked] = useState<Asked>(NOTHING_ASKED);
  const answer = useAnswer(() => found(book, asked), [book, asked]);
  const budget = answer.value;
  return (
    <>
      <Waiting answer={answer} />
      {budget !== null && <BudgetShown budget={budget} show={show} />}
      <AskedFields asked={asked} put={setAsked} />
      <p class="hint">{CAUTIONS.planningAid}</p>
      <ProposeButton
        {...given}
        off={budget === null}
        request={(today) => budgetRequest(asked, today)}
      >
        {words.show}
      </ProposeButton>
    </>
  );
}

function* found({ snapshot, reading }: Opened, asked: Asked): Steps<Budget> {
  const { reportDate } = reading.ours.settings;
  const from = dayTyped(asked.from === "" ? "" : `${asked.from}-01`);
  if (from !== null && !mayBegin(from, reportDate)) {
    throw new BookError(
      "The budget's twelve months must not be over, and begin within four years.",
    );
  }
  const level = numberTyped(asked.level);
  if (level !== null && (level < 50 || level > 99.99)) {
    throw new BookError("The upper figure must be enough in 50% to 99.99% of cases.");
  }
  return yield* budgetSteps(snapshot, reading, {
    from,
    level: level === null ? null : level / 100,
    pooled: asked.pooled,
    births: asked.births,
    whatIf: NO_WHAT_IF,
  });
}

/** The sheets of the budget. */
export function budgetRequest(asked: Asked, today: Day): Request {
  return resultsRequest(function* (opened) {
    return budgetChange(yield* found(opened, asked));
  }, today);
}

function AskedFields({
  asked,
  put,
}: {
  readonly asked: Asked;
  readonly put: (asked: Asked) => void;
}): JSX.Element {
  return (
    <details>
      <summary>{LATER_WORDS.ahead.whatIf}</summary>
      <Input
        type="month"
        label={words.from}
        hint={words.next}
        value={asked.from}
        put={(from) => {
          put({ ...asked, from });
        }}
      />
      <Input
        type="number"
        label={words.level}
        value={asked.level}
        put={(level) => {
          put({ ...asked, level });
        }}
      />
      <Tick
        label={words.pool}
        on={asked.pooled}
        put={(pooled) => {
          put({ ...asked, pooled });
        }}
      />
      <Tick
        label={words.births}
        on={asked.births}
        put={(births) => {
          put({ ...asked, births });
        }}
      />
    </details>
  );
}

function BudgetShown({
  budget,
  show,
}: {
  readonly budget: Budget;
  readonly show: Show;
}): JSX.Element {
  const { fiscal, year, bridge, expected, incomplete } = budget;
  const { currency } = year.reading.ours.settings;
  return (
    <>
      <Lines show={show} all={[...doubtsSay(year.reading), ...incompleteSays(budget)]} />
      <p>{words.lead(fiscal.name, currency)}</p>
      <Figures
        all={[
          [words.expected, show.money(expected)],
          ...(incomplete.length > 0
            ? []
            : ([
                [words.contingency, show.money(budget.contingency)],
                [
                  `${words.upper} (${show.percent(enoughWith(budget))})`,
                  show.money(budget.upper),
                  true,
                ],
              ] as const)),
        ]}
      />
      <Quarters budget={budget} show={show} />
      <Bridge {...{ bridge, fiscal, show }} />
      <Lines show={show} all={budgetSays(budget)} />
    </>
  );
}

/** What each quarter costs: a picture, and the parts and the freight of it in numbers. */
function Quarters({
  budget: { fiscal, places, freight, year },
  show,
}: {
  readonly budget: Budget;
  readonly show: Show;
}): JSX.Element {
  const parts = [...new Set(places.map(({ part }) => part))];
  const costOf = (
    part: (typeof parts)[number],
    quarter: (typeof fiscal.quarters)[number],
  ): number =>
    sumOf(
      places
        .filter((place) => place.part === part)
        .map(({ quarters }) => quarters.find((one) => one.quarter === quarter)?.cost ?? null),
    );
  const rows = fiscal.quarters.map((quarter, at) => {
    const costs = [...parts.map((part) => costOf(part, quarter)), freight[at] ?? 0];
    const sum = sumOf(costs);
    return { name: quarter.name.replace(fiscal.name, "").trim(), sum, costs: [...costs, sum] };
  });
  const total = (rows[0]?.costs ?? []).map((_, at) =>
    sumOf(rows.map(({ costs }) => costs[at] ?? 0)),
  );
  return (
    <>
      <Bars
        title={words.quarters}
        unit={words.money(year.reading.ours.settings.currency)}
        description={`${rows.map(({ name, sum }) => `${name} ${show.money(sum)}`).join(", ")}.`}
        bars={rows.map(({ name, sum }) => ({ label: name, amount: sum, text: show.number(sum) }))}
        show={show}
      />
      <details>
        <summary>{words.table}</summary>
        <Table
          numbers
          caption={words.table}
          head={[words.quarter, ...parts.map(({ name }) => name), words.freight, words.sum]}
          rows={[...rows, { name: words.year, costs: total }].map(({ name, costs }) => [
            name,
            ...costs.map((cost) => show.number(cost)),
          ])}
        />
      </details>
    </>
  );
}
