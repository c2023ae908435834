import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { CAUTIONS } from "../../../src/book/records/cautions.ts";
import { BookError } from "../../../src/book/workbook/errors.ts";
import { type Trace, TRACES } from "../../../src/book/evidence/trace-place.ts";
import type { Reading } from "../../../src/book/records/records.ts";
import { lotChange, type Traced, traced } from "../../../src/book/evidence/lot-trace.ts";
import { oneStep } from "../../../src/book/workbook/steps.ts";
import { useAnswer } from "../state/answer.ts";
import { Choice, Input } from "../pieces/form.tsx";
import { Long } from "../pieces/pieces.tsx";
import { Figures } from "../pieces/tables.tsx";
import type { SectionGiven } from "../pieces/section.ts";
import { ProposeButton } from "../pieces/propose-button.tsx";
import type { Show } from "../state/show.ts";
import { Waiting } from "../pieces/waiting.tsx";
import { resultsRequest } from "../state/requests.ts";
import { LATER_WORDS } from "../words/later-words.ts";

const words = LATER_WORDS.lot;

interface Asked {
  readonly by: "lot" | "device";
  readonly name: string;
}

/** A lot is recalled: where it is, was or may be; or the lots of a device. */
export function LotPart(given: SectionGiven): JSX.Element {
  const { book, show } = given;
  const [asked, setAsked] = useState<Asked>({ by: "lot", name: "" });
  const answer = useAnswer(() => oneStep(() => tracedFor(book.reading, asked)), [book, asked]);
  const traces = answer.value;
  return (
    <>
      <Choice
        label={words.by}
        value={asked.by}
        put={(by) => {
          setAsked({ ...asked, by: by === "device" ? "device" : "lot" });
        }}
        among={[
          ["lot", words.lot],
          ["device", words.device],
        ]}
      />
      <Input
        label={asked.by === "lot" ? words.lot : words.device}
        value={asked.name}
        put={(name) => {
          setAsked({ ...asked, name });
        }}
      />
      <Waiting answer={answer} />
      {traces !== null && <Traces {...traces} show={show} />}
      <p class="hint">{words.unknown}</p>
      <p class="hint">{CAUTIONS.notJudged}</p>
      <ProposeButton
        {...given}
        off={traces === null}
        request={(today) =>
          resultsRequest(
            ({ reading }) =>
              oneStep(() => {
                const found = tracedFor(reading, asked);
                if (found === null) throw new BookError(words.nothing);
                return lotChange(found, reading.ours.settings.reportDate);
              }),
            today,
          )
        }
      >
        {LATER_WORDS.share.show}
      </ProposeButton>
    </>
  );
}

/** Null where nothing is asked; throws a sentence for a device that is not known. */
function tracedFor(reading: Reading, { by, name }: Asked): Traced | null {
  if (name.trim() === "") return null;
  const found = traced(reading, by, name);
  if (found === null) throw new BookError(words.noDevice);
  return found;
}

function Traces({ traces, of, show }: Traced & { readonly show: Show }): JSX.Element {
  const count = (kind: Trace["kind"]): number => traces.filter((one) => one.kind === kind).length;
  return (
    <>
      <h3>{words.found(of)}</h3>
      <Figures
        all={TRACES.map((kind) => [
          kind,
          show.number(count(kind)),
          isOpen(kind) && count(kind) > 0,
        ])}
      />
      {traces.length > 0 && (
        <Long
          label={words.list}
          all={traces}
          one={(trace) => <TraceShown {...{ trace, show }} />}
        />
      )}
    </>
  );
}

/** What has to be looked at: not what was replaced long ago. */
function isOpen(kind: Trace["kind"]): boolean {
  return kind !== "fitted before";
}

function TraceShown({ trace, show }: { readonly trace: Trace; readonly show: Show }): JSX.Element {
  const { kind, site, device, part, lot, fitted, replaced, units, note } = trace;
  const more = [
    part,
    site,
    lot === "" ? "" : words.lotNamed(lot),
    fitted === null ? "" : words.fitted(show.day(fitted)),
    replaced === null ? "" : words.replaced(show.day(replaced)),
    units === null ? "" : words.units(units),
    note,
  ];
  return (
    <div class="item">
      <strong>{device === "" ? kind : `${kind}: ${device}`}</strong>
      <span>{more.filter((text) => text !== "").join(" · ")}</span>
    </div>
  );
}
