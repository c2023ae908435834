import { COMMON } from "./arguments.ts";
import { type Command, MOMENTS } from "./command.ts";
import type { Option, Options } from "./option.ts";

/** Help is made from the declarations: one text for all commands, one for each. */

/** Characters of a line. */
const WIDTH = 100;

/** What all commands have in common, and a line for each. */
export function helpOnAll(commands: readonly Command[]): string {
  const uses = commands.map((command) => shortUse(command));
  const width = Math.max(...uses.map(({ length }) => length)) + 3;
  const lines = MOMENTS.map((moment) => [
    ...(moment === "" ? [] : [moment]),
    ...commands.flatMap((command, at) =>
      command.moment === moment ? [`  ${(uses[at] ?? "").padEnd(width)}${command.brief}`] : [],
    ),
  ]);
  return [
    "sparespan: the reused parts of screening equipment, in the workbook you already have",
    ...lines.map((block) => block.join("\n")),
    ["Options", ...optionLines(COMMON)].join("\n"),
    "Jobs under The year and Proof print their result; with -o or --in-place they also write it into the workbook.\nshare and summary make files of their own.",
    "Exit codes: 0 fine, 1 the rows have faults, 2 could not run. start always ends with 0 when it ran.\n",
  ].join("\n\n");
}

function shortUse({ name, words, writes }: Command): string {
  const out = writes.startsWith("[") ? "" : writes.replace(/\|.*/, "");
  return ["sparespan", name, words, out].filter((text) => text !== "").join(" ");
}

/** How a command is written, what it does, its own options, and examples. */
export function helpOn(command: Command): string {
  const { about, options, examples } = command;
  const blocks = [...headings(options)].map((heading) => {
    const under = Object.fromEntries(
      Object.entries(options).filter(([, option]) => (option.heading ?? "") === heading),
    );
    return [...(heading === "" ? [] : [heading]), ...optionLines(under)].join("\n");
  });
  return [
    useLines(command).join("\n"),
    about,
    ...blocks,
    `${examples.map((example) => `  sparespan ${example}`).join("\n")}\n`,
  ].join("\n\n");
}

/** The headings of some options, those without one first. */
function headings(options: Options): Set<string> {
  const all = Object.values(options).map(({ heading = "" }) => heading);
  return new Set(all.includes("") ? ["", ...all] : all);
}

/** A command with everything that can be said to it but what stands under a heading of its own. */
function useLines({ name, words, writes, common, options }: Command): string[] {
  const own = Object.entries(options).filter(([, { heading }]) => heading === undefined);
  const shared = common.map((one): [string, Option<unknown>] => [one, COMMON[one]]);
  const pieces = [
    words,
    writes,
    ...[...own, ...shared].map((one) =>
      one[1].takes === "several" ? `[${said(one)}]...` : `[${said(one)}]`,
    ),
  ];
  const lines = [`sparespan ${name}`];
  for (const piece of pieces.filter((text) => text !== "")) {
    const line = `${lines.pop() ?? ""} ${piece}`;
    const [before, last] = line.length > WIDTH ? [line.slice(0, -piece.length - 1), piece] : [line];
    lines.push(before, ...(last === undefined ? [] : [`    ${last}`]));
  }
  return lines;
}

function said([name, { shows }]: readonly [string, Option<unknown>]): string {
  return shows === "" ? `--${name}` : `--${name} ${shows}`;
}

/** Options with what they are about, beside each other. */
function optionLines(options: Options): string[] {
  const all = Object.entries(options);
  const names = all.map(
    (one) => `${one[1].short === undefined ? "" : `-${one[1].short}, `}${said(one)}`,
  );
  const width = Math.max(...names.map(({ length }) => length)) + 2;
  return all.flatMap(([, { about }], at) =>
    wrapped(about, WIDTH - width - 2).map(
      (line, first) => `  ${(first === 0 ? (names[at] ?? "") : "").padEnd(width)}${line}`,
    ),
  );
}

/** A text in lines of so many characters at most, broken between words. */
function wrapped(text: string, width: number): string[] {
  const lines = [""];
  for (const word of text.split(" ")) {
    const line = lines.at(-1) ?? "";
    if (line === "") lines[lines.length - 1] = word;
    else if (line.length + 1 + word.length <= width) lines[lines.length - 1] = `${line} ${word}`;
    else lines.push(word);
  }
  return lines;
}
