import type { JSX } from "preact";
import { bridgeTotal } from "../../../src/book/budget/bridge.ts";
import type { Budget } from "../../../src/book/budget/budget.ts";
import type { Show } from "../state/show.ts";
import { Waterfall } from "./waterfall.tsx";
import { LATER_WORDS } from "../words/later-words.ts";

const words = LATER_WORDS.budget;

/** From last year's cost to the budget, step by step. */
export function Bridge({
  bridge,
  fiscal,
  show,
}: Pick<Budget, "bridge" | "fiscal"> & { readonly show: Show }): JSX.Element {
  // The steps of a year that is running lead to all of it, what it has cost so far included.
  const total = {
    step: fiscal.isRunning ? words.wholeYear : words.expected,
    amount: bridgeTotal(bridge),
  };
  return (
    <>
      <Waterfall
        title={words.bridge}
        description={`${[...bridge, total]
          .map(({ step, amount }) => `${step} ${show.money(amount)}`)
          .join(", ")}.`}
        steps={bridge}
        total={total}
        show={show}
      />
      <details>
        <summary>{words.steps}</summary>
        <dl>
          {bridge.map(({ step, amount, about }) => (
            <div key={step}>
              <dt>{`${step}: ${show.money(amount)}`}</dt>
              <dd>{about}</dd>
            </div>
          ))}
        </dl>
      </details>
    </>
  );
}
