import { describe, expect, it } from "vitest";
import { lineOf } from "../../src/cli/arguments.ts";
import { COMMANDS } from "../../src/cli/commands/list.ts";
import { helpOn, helpOnAll } from "../../src/cli/help.ts";
import { sparespan } from "./session.ts";

const own = COMMANDS.map(({ options }) => options);

/** An example as the shell would take it apart. */
function words(example: string): string[] {
  return [...example.matchAll(/(?:[^\s"]|"[^"]*")+/g)].map(([word]) => word.replaceAll('"', ""));
}

describe("the general help", () => {
  const help = helpOnAll(COMMANDS);
  it("names every command once, with its line", () => {
    for (const { name, brief } of COMMANDS) {
      const lines = help.split("\n").filter((line) => line.startsWith(`  sparespan ${name} `));
      expect([name, lines.length]).toEqual([name, 1]);
      expect(lines[0]?.endsWith(brief)).toBe(true);
    }
    expect(new Set(COMMANDS.map(({ name }) => name)).size).toBe(COMMANDS.length);
  });
  it("fits a window of 110 characters", () => {
    for (const text of [help, ...COMMANDS.map(helpOn)]) {
      for (const line of text.split("\n")) {
        expect(line.length).toBeLessThan(line.startsWith("  sparespan") ? 120 : 111);
      }
    }
  });
});

describe.each(COMMANDS.map((command) => [command.name, command] as const))(
  "%s",
  (name, command) => {
    it("lists each of its options with what it is about", () => {
      const help = helpOn(command);
      for (const [option, { about }] of Object.entries(command.options)) {
        const [first = ""] = about.match(/^.{1,40}(?=\s|$)/) ?? [];
        expect(help).toMatch(
          new RegExp(`^  (?:-\\w, )?--${option} .*${first.replace(/\W/g, ".")}`, "m"),
        );
      }
    });
    it("has examples that it takes", () => {
      expect(command.examples.length).toBeGreaterThan(0);
      for (const example of command.examples.filter(() => name !== "calc")) {
        const line = lineOf(words(example), own);
        expect(line.words.slice(0, name.split(" ").length).join(" ")).toBe(name);
        const others = [...line.said.keys()].filter((option) =>
          COMMANDS.some((other) => other !== command && Object.hasOwn(other.options, option)),
        );
        for (const option of others)
          expect([option, option in command.options]).toEqual([option, true]);
      }
    });
    it("helps when asked", async () => {
      const { code, out } = await sparespan(...name.split(" "), "--help");
      expect({ code, out }).toEqual({ code: 0, out: helpOn(command) });
    });
  },
);

describe("two commands that share a word", () => {
  it("help together, and refuse what only the other takes", async () => {
    const { out } = await sparespan("share", "--help");
    expect(out).toContain("sparespan share order BOOK");
    expect(out).toContain("sparespan share copy BOOK");
    const said = await sparespan("share", "copy", "a.xlsx", "-o", "b.xlsx", "--pool");
    expect(said).toEqual({ code: 2, out: "", err: "sparespan: share copy takes no --pool\n" });
  });
});

describe("an option", () => {
  it("said twice holds as said last", async () => {
    const said = await sparespan("ahead", "a.xlsx", "--level", "0.8", "--level", "7");
    expect(said.err).toBe('sparespan: --level must be a number from 0.5 to 0.999, got "7"\n');
  });
  it("is read before any workbook is opened", async () => {
    const said = await sparespan("rounds", "nosuch.xlsx", "--week", "x");
    expect(said.err).toContain("--week must be");
  });
});
