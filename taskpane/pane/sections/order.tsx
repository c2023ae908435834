import { doubtsSay } from "../../../src/book/records/doubts.ts";
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { CAUTIONS } from "../../../src/book/records/cautions.ts";
import type { OrderLine } from "../../../src/book/orders/lines.ts";
import {
  bookOrderSteps,
  costOf,
  type Orders,
  orderWarnings,
} from "../../../src/book/orders/orders.ts";
import { orderChange } from "../../../src/book/orders/order-change.ts";
import type { Steps } from "../../../src/book/workbook/steps.ts";
import { NO_WHAT_IF } from "../../../src/book/year/what-if.ts";
import { addMonths, type Day, monthStart } from "../../../src/core/day.ts";
import { useAnswer } from "../state/answer.ts";
import { Tick } from "../pieces/ticks.tsx";
import { Lines, Long } from "../pieces/pieces.tsx";
import { Figures } from "../pieces/tables.tsx";
import { ProposeButton } from "../pieces/propose-button.tsx";
import type { SectionGiven } from "../pieces/section.ts";
import type { Show } from "../state/show.ts";
import type { Opened, Request } from "../state/state.ts";
import { Waiting } from "../pieces/waiting.tsx";
import { resultsRequest } from "../state/requests.ts";
import { LATER_WORDS } from "../words/later-words.ts";

const words = LATER_WORDS.order;

/** The orders of the year ahead. */
export function ordersFor({ snapshot, reading }: Opened, pooled: boolean): Steps<Orders> {
  return bookOrderSteps(snapshot, reading, { pooled, whatIf: NO_WHAT_IF });
}

/** What to order now, and why. */
export function OrderSection(given: SectionGiven): JSX.Element {
  const { book, show } = given;
  const [pooled, setPooled] = useState(false);
  const answer = useAnswer(() => ordersFor(book, pooled), [book, pooled]);
  const orders = answer.value;
  return (
    <>
      <Waiting answer={answer} />
      {orders !== null && <OrdersShown orders={orders} show={show} />}
      <Tick label={LATER_WORDS.budget.pool} on={pooled} put={setPooled} />
      <p class="hint">{CAUTIONS.completeSets}</p>
      <ProposeButton
        {...given}
        off={orders === null}
        request={(today) => orderRequest(pooled, today)}
      >
        {words.show}
      </ProposeButton>
    </>
  );
}

/** The sheets of the orders. */
export function orderRequest(pooled: boolean, today: Day): Request {
  return resultsRequest(function* (opened) {
    return orderChange(yield* ordersFor(opened, pooled));
  }, today);
}

function OrdersShown({ orders, show }: { readonly orders: Orders; readonly show: Show }) {
  const { now, year, local, pooled } = orders;
  const { parts, freight, unpriced } = costOf(orders, now);
  const { currency } = year.reading.ours.settings;
  return (
    <>
      <Lines show={show} all={doubtsSay(year.reading)} />
      <p>{words.lead(now.length)}</p>
      {now.length > 0 && (
        <Figures
          all={[
            [words.together, show.money(parts + freight, currency), true],
            [words.parts, show.money(parts)],
            [words.freight, show.money(freight)],
          ]}
        />
      )}
      <Lines
        show={show}
        all={[
          unpriced.length === 0 ? "" : LATER_WORDS.budget.unpriced(unpriced.join(", ")),
          ...orderWarnings(orders),
        ]}
      />
      {byUrgency(orders, show).map(([title, lines, isLate], at) => (
        <details key={title} open={at === 0} class={isLate ? "late" : undefined}>
          <summary class="sign">{`${isLate ? "▲ " : ""}${title}: ${lines.length}`}</summary>
          <Long label={title} all={lines} one={(line) => <LineShown line={line} show={show} />} />
        </details>
      ))}
      <p class="hint">{words.compare(show.number(local), show.number(pooled))}</p>
    </>
  );
}

type Group = readonly [title: string, lines: readonly OrderLine[], isLate: boolean];

/** What is late already, what goes out now, what can wait. */
function byUrgency({ now, later, year }: Orders, show: Show): Group[] {
  const { reportDate } = year.horizon;
  const isLate = ({ orderBy }: OrderLine): boolean => orderBy < reportDate;
  const next = now.filter((line) => !isLate(line));
  const last = next.reduce((day, { orderOn }) => (orderOn > day ? orderOn : day), reportDate);
  const isThisMonth = last < addMonths(monthStart(reportDate), 1);
  const groups: Group[] = [
    [words.late, now.filter(isLate), true],
    [isThisMonth ? words.thisMonth : words.until(show.day(last)), next, false],
    [words.laterOn, later, false],
  ];
  return groups.filter(([, lines]) => lines.length > 0);
}

function LineShown({ line, show }: { readonly line: OrderLine; readonly show: Show }): JSX.Element {
  const { place, packs, units, orderBy, cost, why } = line;
  return (
    <div class="item">
      <strong>{`${place.site || words.store}: ${place.part.name}`}</strong>
      <span>
        {[
          words.line(packs, units),
          words.orderBy(show.day(orderBy)),
          cost === null ? words.noPrice : show.money(cost),
        ].join(" · ")}
      </span>
      <details>
        <summary>{shortWhy(line, show)}</summary>
        {show.said(why)}
      </details>
    </div>
  );
}

/** What is there, and from when it is not enough. */
function shortWhy({ place, needBy }: OrderLine, show: Show): string {
  const { onHand, countedOn } = place.stock;
  const there = countedOn === null && onHand === 0 ? words.uncounted : words.onShelf(onHand);
  return words.short(there, show.day(needBy));
}
