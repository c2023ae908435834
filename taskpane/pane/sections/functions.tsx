import type { JSX } from "preact";
import { useState } from "preact/hooks";
import type { Definition } from "../../../functions/define.ts";
import {
  answerText,
  formulaText,
  RANGES,
  signature,
  takesRanges,
} from "../../../functions/help.ts";
import { functions, GROUPS } from "../../../functions/index.ts";
import type { Desk } from "../state/desk.ts";
import { Input } from "../pieces/form.tsx";
import { PLAINLY } from "../words/function-words.ts";
import type { Show } from "../state/show.ts";
import type { State } from "../state/state.ts";
import { Trial } from "./trial.tsx";
import { LATER_WORDS } from "../words/later-words.ts";

const words = LATER_WORDS.functions;

interface Given {
  readonly state: State;
  readonly desk: Desk;
  readonly show: Show;
}

/** Help on every worksheet function, each with a form to try it. */
export function FunctionsSection(given: Given): JSX.Element {
  const [find, setFind] = useState("");
  const wanted = find.trim().toLowerCase();
  const isFound = ({ id, about }: Definition): boolean =>
    `${id} ${PLAINLY[id] ?? ""} ${about}`.toLowerCase().includes(wanted);
  const count = functions.filter(isFound).length;
  return (
    <>
      <p>{given.state.place === "alone" ? words.alone : words.lead}</p>
      <Input type="search" label={words.find} value={find} put={setFind} />
      <p class="hint" role="status">
        {count === 0 ? words.none : words.found(count, functions.length)}
      </p>
      {GROUPS.map(({ job, functions: all }) => {
        const shown = all.filter(isFound);
        if (shown.length === 0) return null;
        return (
          <section key={job}>
            <h3>{job}</h3>
            {shown.map((definition) => (
              <Entry key={definition.id} definition={definition} {...given} />
            ))}
          </section>
        );
      })}
    </>
  );
}

/** One function, folded; what is inside is made when it is opened. */
function Entry({ definition, ...given }: Given & { readonly definition: Definition }): JSX.Element {
  const [open, setOpen] = useState(false);
  const { id, about, args, gives, see, examples } = definition;
  return (
    <details
      onToggle={(event) => {
        setOpen(event.currentTarget.open);
      }}
    >
      <summary>
        {id}
        <small class="hint">{PLAINLY[id] ?? about}</small>
      </summary>
      {open && (
        <>
          <p>{about}</p>
          <p>
            <code>{signature(definition)}</code>
          </p>
          <dl>
            {args.map((arg) => (
              <div key={arg.name}>
                <dt>{arg.optional ? `${arg.name} (${words.optional})` : arg.name}</dt>
                <dd>{arg.about}</dd>
              </div>
            ))}
          </dl>
          {takesRanges(definition) && <p class="hint">{RANGES}</p>}
          <p>{`${words.gives}: ${gives.about}`}</p>
          <ul>
            {examples.map((example, at) => (
              <li key={at}>
                <code>{formulaText(definition, example)}</code>
                {` → ${answerText(definition, example)}`}
              </li>
            ))}
          </ul>
          <p class="hint">{`${words.source}: ${see}`}</p>
          <Trial definition={definition} {...given} />
        </>
      )}
    </details>
  );
}
