import { doubtsSay } from "../../src/book/records/doubts.ts";
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { CAUTIONS } from "../../src/book/records/cautions.ts";
import type { OrderLine } from "../../src/book/orders/lines.ts";
import {
  bookOrderSteps,
  costOf,
  type Orders,
  orderWarnings,
} from "../../src/book/orders/orders.ts";
import { orderChange } from "../../src/book/orders/order-change.ts";
import type { Steps } from "../../src/book/workbook/steps.ts";
import { NO_WHAT_IF } from "../../src/book/year/what-if.ts";
import type { Day } from "../../src/core/day.ts";
import { useAnswer } from "./answer.ts";
import { Tick } from "./form.tsx";
import { Lines, Long } from "./pieces.tsx";
import { ProposeButton } from "./propose-button.tsx";
import type { SectionGiven } from "./section.ts";
import type { Show } from "./show.ts";
import type { Opened, Request } from "./state.ts";
import { Waiting } from "./waiting.tsx";
import { resultsRequest } from "./requests.ts";
import { WORDS } from "./words.ts";

const words = WORDS.order;

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
      <Tick label={WORDS.budget.pool} on={pooled} put={setPooled} />
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
  const { now, later, year, local, pooled } = orders;
  const { parts, freight, unpriced } = costOf(orders, now);
  const { currency } = year.reading.ours.settings;
  return (
    <>
      <Lines all={doubtsSay(year.reading)} />
      <p>{words.lead(now.length)}</p>
      <Long
        label={words.lead(now.length)}
        all={now}
        one={(line) => <LineShown line={line} show={show} />}
      />
      <Lines
        all={[
          words.cost(
            show.money(parts),
            show.money(freight),
            currency === "XXX"
              ? show.money(parts + freight)
              : `${show.money(parts + freight)} ${currency}`,
          ),
          unpriced.length === 0 ? "" : WORDS.budget.unpriced(unpriced.join(", ")),
          ...orderWarnings(orders),
          words.later(later.length),
          words.compare(show.number(local), show.number(pooled)),
        ]}
      />
    </>
  );
}

function LineShown({ line, show }: { readonly line: OrderLine; readonly show: Show }): JSX.Element {
  const { place, packs, units, needBy, orderBy, cost, why } = line;
  return (
    <div class="item">
      <strong>{`${place.part.name}, ${place.site || words.store}`}</strong>
      <span>
        {[
          words.line(packs, units),
          words.needBy(show.day(needBy)),
          words.orderBy(show.day(orderBy)),
          cost === null ? words.noPrice : show.money(cost),
        ].join(" · ")}
      </span>
      <span>{why}</span>
    </div>
  );
}
