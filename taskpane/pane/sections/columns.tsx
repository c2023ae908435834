import type { JSX } from "preact";
import { useState } from "preact/hooks";
import type { Mode } from "../../../src/book/columns/our-column.ts";
import { liveLoadSays } from "../../../src/book/columns/live-load.ts";
import { modeOf } from "../../../src/book/columns/mode.ts";
import { type Field, fieldsFor } from "../../../src/book/headings/fields.ts";
import type { ColumnMatch } from "../../../src/book/records/records.ts";
import { fieldOfPart } from "../../../src/book/records/positions.ts";
import { eachRegister, type RegisterReading } from "../../../src/book/records/registers.ts";
import { COLUMNS_WORDS } from "../words/columns-words.ts";
import { Choice } from "../pieces/form.tsx";
import { Radios } from "../pieces/ticks.tsx";
import { Lines } from "../pieces/pieces.tsx";
import { ProposeButton } from "../pieces/propose-button.tsx";
import type { SectionGiven } from "../pieces/section.ts";
import type { Show } from "../state/show.ts";
import { columnsRequest } from "../state/requests.ts";

const words = COLUMNS_WORDS;
/** How a person says that a field has no column. */
const NO_COLUMN = "none";

/** The headings as they were understood, and the columns that are added. */
export function ColumnsSection({ state, book, desk, show }: SectionGiven): JSX.Element {
  const { snapshot, reading } = book;
  const { registers } = reading;
  const there = modeOf(snapshot, reading);
  const [mode, setMode] = useState<Mode>(there ?? "portable");
  const canLive = (desk.host()?.live ?? false) && snapshot.dateSystem === 1900;
  const choose = (key: string, value: string): void => {
    void desk.choose({ matches: new Map([...state.matches, [key, value]]) });
  };
  const modes = [
    ["portable", words.portable, words.portableHint],
    ...(canLive ? [["live", words.live, words.liveHint] as const] : []),
    ["values", words.values, words.valuesHint],
  ] as const;
  return (
    <>
      {eachRegister(reading).map((one) => (
        <RegisterHeadings key={one.register.sheet} {...{ one, show, choose }} />
      ))}
      <Choice
        label={words.sheet}
        value={registers.length === 1 ? (registers[0]?.sheet ?? "") : ""}
        put={(sheet) => {
          choose("register", sheet);
        }}
        among={[
          ["", words.each],
          ...snapshot.sheets.map(({ name }): [string, string] => [name, name]),
        ]}
      />
      <Radios
        label={words.way}
        value={mode}
        put={(value) => {
          const found = modes.find(([one]) => one === value);
          if (found !== undefined) setMode(found[0]);
          desk.drop();
        }}
        among={modes}
      />
      {mode === "live" && (
        <Lines show={show} all={[liveLoadSays(reading) ?? ""].filter((text) => text !== "")} />
      )}
      <ProposeButton
        {...{ state, book, desk, show }}
        request={(today) => columnsRequest(mode, today)}
      >
        {words.show}
      </ProposeButton>
    </>
  );
}

/** How a register was understood. A select a field; those without a column first, because they need a decision. */
function RegisterHeadings({
  one: { register, ours, devices },
  show,
  choose,
}: {
  readonly one: RegisterReading;
  readonly show: Show;
  readonly choose: (key: string, value: string) => void;
}): JSX.Element {
  const fields = fieldsFor(ours.parts);
  const matchOf = (field: Field): ColumnMatch | null =>
    register.matches.find((match) => fieldOfPart(match.field) === field.key) ?? null;
  const missing = fields.filter((field) => isNeeded(field) && matchOf(field) === null);
  const select = (field: Field): JSX.Element => {
    const match = matchOf(field);
    return (
      <Choice
        key={field.key}
        label={field.title}
        {...(match === null ? {} : { hint: surely(match, show) })}
        value={match?.heading ?? NO_COLUMN}
        put={(heading) => {
          choose(`column ${field.key}`, heading);
        }}
        among={[
          [NO_COLUMN, words.none],
          ...[...new Set(register.headings)]
            .filter((heading) => heading !== "")
            .map((heading): [string, string] => [heading, heading]),
        ]}
      />
    );
  };
  return (
    <>
      <p>{words.lead(register.sheet, register.headerRow + 1, devices.length)}</p>
      {missing.length > 0 && (
        <fieldset>
          <legend>{words.missing}</legend>
          {missing.map(select)}
        </fieldset>
      )}
      <details>
        <summary>{`${words.headings}: ${register.matches.length}`}</summary>
        {fields.filter((field) => !missing.includes(field)).map(select)}
      </details>
    </>
  );
}

function isNeeded({ key }: Field): boolean {
  return key === "device" || key === "site" || key.startsWith("last:");
}

function surely({ by, confidence }: ColumnMatch, show: Show): string {
  return by === "heading" ? words.sure(show.percent(confidence)) : words.chosen;
}
