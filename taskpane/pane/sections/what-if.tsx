import type { JSX } from "preact";
import type { Reading } from "../../../src/book/records/records.ts";
import { NO_WHAT_IF, type WhatIf } from "../../../src/book/year/what-if.ts";
import { Choice, Input } from "../pieces/form.tsx";
import { numberTyped } from "../state/show.ts";
import { LATER_WORDS } from "../words/later-words.ts";

const words = LATER_WORDS.ahead;

/** What is supposed, as typed. */
export interface Typed {
  readonly volume: string;
  /** By part code. */
  readonly shortest: Readonly<Record<string, string>>;
  readonly longest: Readonly<Record<string, string>>;
  readonly wipes: string;
  readonly site: string;
  readonly devices: string;
  readonly uses: string;
}

export const NOTHING_TYPED: Typed = {
  volume: "",
  shortest: {},
  longest: {},
  wipes: "",
  site: "",
  devices: "",
  uses: "",
};

/** What was typed as a what-if; fields left blank suppose nothing. */
export function whatIfOf(typed: Typed, { ours }: Reading): WhatIf {
  const devices = numberTyped(typed.devices) ?? 0;
  const intervals = ours.parts.flatMap(({ code, ...part }) => {
    const shortest = numberTyped(typed.shortest[code] ?? "");
    const longest = numberTyped(typed.longest[code] ?? "");
    if (shortest === null && longest === null) return [];
    const [low, high] = [shortest ?? part.shortest ?? 1, longest ?? part.longest ?? 1];
    // Ends typed the wrong way round mean the same interval.
    return [
      { part: code, shortest: months(Math.min(low, high)), longest: months(Math.max(low, high)) },
    ];
  });
  return {
    ...NO_WHAT_IF,
    volume: clamp(numberTyped(typed.volume) ?? 0, -99, 1000) / 100,
    intervals,
    wipes: typed.wipes === "" ? [] : [{ site: "", wipes: typed.wipes }],
    added:
      typed.site === "" || devices < 1
        ? []
        : [
            {
              site: typed.site,
              devices: Math.floor(Math.min(devices, 10_000)),
              uses: numberTyped(typed.uses),
            },
          ],
  };
}

function months(typed: number): number {
  return Math.floor(clamp(typed, 1, 120));
}

function clamp(amount: number, least: number, most: number): number {
  return Math.min(Math.max(amount, least), most);
}

interface FieldsGiven {
  readonly typed: Typed;
  readonly put: (typed: Typed) => void;
  readonly reading: Reading;
}

/** The fields of a what-if, folded until somebody wants to suppose something. */
export function WhatIfFields({ typed, put, reading }: FieldsGiven): JSX.Element {
  return (
    <details>
      <summary>{words.whatIf}</summary>
      <Input
        type="number"
        label={words.volume}
        value={typed.volume}
        put={(volume) => {
          put({ ...typed, volume });
        }}
      />
      <IntervalFields {...{ typed, put, reading }} />
      <Choice
        label={words.wipes}
        value={typed.wipes}
        put={(wipes) => {
          put({ ...typed, wipes });
        }}
        among={[
          ["", words.asSites],
          ["alcohol", words.alcohol],
          ["alcohol-free", words.alcoholFree],
        ]}
      />
      <AddedFields {...{ typed, put, reading }} />
    </details>
  );
}

function IntervalFields({ typed, put, reading }: FieldsGiven): JSX.Element {
  const parts = reading.ours.parts.filter(({ task }) => !task);
  const ends = ["shortest", "longest"] as const;
  return (
    <>
      {parts.flatMap((part) =>
        ends.map((end) => (
          <Input
            key={`${part.code} ${end}`}
            type="number"
            label={words[end](part.name)}
            hint={words.now(String(part[end] ?? ""))}
            value={typed[end][part.code] ?? ""}
            put={(text) => {
              put({ ...typed, [end]: { ...typed[end], [part.code]: text } });
            }}
          />
        )),
      )}
    </>
  );
}

function AddedFields({ typed, put, reading }: FieldsGiven): JSX.Element {
  const sites = reading.ours.sites.map(({ code }): [string, string] => [code, code]);
  return (
    <>
      <Choice
        label={words.site}
        value={typed.site}
        put={(site) => {
          put({ ...typed, site });
        }}
        among={[["", words.noSite], ...sites]}
      />
      <Input
        type="number"
        label={words.devices}
        value={typed.devices}
        put={(devices) => {
          put({ ...typed, devices });
        }}
      />
      <Input
        type="number"
        label={words.uses}
        value={typed.uses}
        put={(uses) => {
          put({ ...typed, uses });
        }}
      />
    </>
  );
}
