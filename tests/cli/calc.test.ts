import { describe, expect, it } from "vitest";
import { functions } from "../../functions/index.ts";
import { calc } from "../../src/cli/calc.ts";
import { day } from "../../src/core/day.ts";

interface Ran {
  readonly code: number;
  readonly out: string;
  readonly err: string;
  readonly writes: number;
}

/** A stream of lines as the shell would hand them over. */
async function* given(lines: readonly string[]): AsyncGenerator<string> {
  await Promise.resolve();
  yield* lines;
}

async function run(args: readonly string[], lines: readonly string[] = []): Promise<Ran> {
  const written: string[] = [];
  const told: string[] = [];
  const code = await calc(args, {
    out: (text) => void written.push(text),
    err: (text) => void told.push(text),
    lines: () => given(lines),
  });
  return { code, out: written.join(""), err: told.join(""), writes: written.length };
}

const due = day("2026-05-15");

describe("one call", () => {
  const values: readonly [string, string][] = [
    ["NEXTDUE 2026-02-17 3", `${due}`],
    ["spare.nextdue 2026-02-17 3", `${due}`],
    ["NEXTDUE 2026-02-17 3 --dates", "2026-05-15"],
    ["--json --dates NEXTDUE 2026-02-17 3", '"2026-05-15"'],
    ["SPAN 120 3 6 600", "5"],
    ["SPAN 120 3 6 600 --dates", "5"],
    ["SPAN - 3 6 600", "3"],
    ["SPAN 130 6 9 - 100 200", "8"],
    ["SPAN [50,150,400] 3 6 600", "6\n4\n3"],
    ["SPAN [[50,150],[400,null]] 3 6 600 --json", "[[6,4],[3,3]]"],
    ["SPAN [[50,150],[400,null]] 3 6 600", "6\t4\n3\t3"],
    ['NEXTDUE 2026-02-17 3 1 ["2026-05-15"] --dates', "2026-05-14"],
    ["DUESTATE soon 2026-05-01", "Check row"],
    ['DUESTATE "2026-05-01" 2026-05-01', "Check row"],
    ["ROWCHECK 2026-05-01 1.2e2 3 6 2026-05-17", "OK"],
    ['USERATE [62,0] ["2026-01-01","2026-02-01"] - false', "60.87375"],
    ['USERATE [0] ["2026-01-01"] - TRUE', "0"],
  ];
  for (const [typed, out] of values) {
    it(`${typed} prints ${JSON.stringify(out)}`, async () => {
      expect(await run(typed.split(" "))).toMatchObject({ code: 0, out: `${out}\n`, err: "" });
    });
  }
  it('takes "" for a blank cell', async () => {
    expect(await run(["NEXTDUE", "", "3", "--json"])).toMatchObject({ code: 0, out: '""\n' });
  });
  it("tells a cell error on stderr and with exit code 1", async () => {
    const message = "usesPerMonth must be a number of at least 0, got -5";
    const typed = ["SPAN", "-5", "3", "6"];
    expect(await run(typed)).toMatchObject({ code: 1, out: "", err: `#VALUE! ${message}\n` });
    const json = `${JSON.stringify({ error: "#VALUE!", message })}\n`;
    expect(await run([...typed, "--json"])).toMatchObject({ code: 1, out: json, err: "" });
  });
  it("tells which row of a column is an error", async () => {
    expect(await run(["SPAN", '[50,"x"]', "3", "6", "600"])).toMatchObject({
      code: 1,
      out: "6\n#VALUE!\n",
      err: 'row 2: #VALUE! usesPerMonth must be a number of at least 0, got "x"\n',
    });
  });
  it("takes a date that does not exist for text", async () => {
    const { code, err } = await run(["NEXTDUE", "2026-02-30", "3"]);
    expect(code).toBe(1);
    expect(err).toContain('lastDone must be a date from 1900-03-01 on, got "2026-02-30"');
  });
  it("leaves with 2 for an unknown function or wrong use, with a sentence", async () => {
    const misuses: readonly [string[], string][] = [
      [["NOSUCH", "1"], "unknown function NOSUCH; sparespan calc --list shows them all"],
      [
        ["NEXTDUE", "1"],
        "SPARE.NEXTDUE(lastDone, months, [weekend], [holidays]) takes 2 to 4 arguments, got 1",
      ],
      [["NEXTDUE", "1", "2", "3", "4", "5"], "takes 2 to 4 arguments, got 5"],
      [["SPAN", "[1,", "3", "6"], "[1, is not valid JSON"],
      [[], "sparespan calc NAME [ARG…]"],
      [["--what"], "sparespan calc NAME [ARG…]"],
    ];
    for (const [typed, sentence] of misuses) {
      const { code, out, err } = await run(typed);
      expect([code, out]).toEqual([2, ""]);
      expect(err).toContain(sentence);
    }
  });
  it("lists every function with its line", async () => {
    const { code, out } = await run(["--list"]);
    expect(code).toBe(0);
    for (const { id, about } of functions) {
      expect(out).toContain(`SPARE.${id}(`);
      expect(out).toContain(about);
    }
  });
});

describe("a stream of calls", () => {
  it("answers each line with a line, in order, and leaves with the worst code", async () => {
    const lines = ['["NEXTDUE","2026-02-17",3]', '["spare.span",null,3,6]'];
    expect(await run(["-"], lines)).toMatchObject({ code: 0, out: `${due}\n3\n` });
    expect(await run(["-", "--dates"], lines)).toMatchObject({ out: '"2026-05-15"\n3\n' });
    const bad = [...lines, '["SPAN","x",3,6]'];
    expect(await run(["-"], bad)).toMatchObject({ code: 1 });
    const worse = await run(["-"], [...bad, "not JSON", '["NOSUCH"]', '["SPAN",120,3,6,600]']);
    expect(worse.code).toBe(2);
    const answers = worse.out
      .trimEnd()
      .split("\n")
      .map((line): unknown => JSON.parse(line));
    expect(answers).toEqual([
      due,
      3,
      { error: "#VALUE!", message: 'usesPerMonth must be a number of at least 0, got "x"' },
      {
        error: "#NAME?",
        message: 'a line must be a JSON array such as ["NEXTDUE","2026-02-17",3]',
      },
      {
        error: "#NAME?",
        message: "unknown function NOSUCH; sparespan calc --list shows them all",
      },
      5,
    ]);
  });
  it("gives what single calls give, in few writes", async () => {
    const lines = Array.from({ length: 20_000 }, (_, index) =>
      JSON.stringify(["NEXTDUE", 45_000 + (index % 900), 1 + (index % 12)]),
    );
    const { out, writes, code } = await run(["-"], lines);
    expect(code).toBe(0);
    expect(writes).toBeLessThan(20);
    const answers = out.trimEnd().split("\n");
    expect(answers.length).toBe(lines.length);
    for (const index of [0, 1, 7_777, 19_999]) {
      const [name = "", ...cells] = JSON.parse(lines[index] ?? "[]") as (string | number)[];
      const alone = await run([String(name), ...cells.map(String)]);
      expect(alone.out).toBe(`${answers[index] ?? ""}\n`);
    }
  });
  it("writes nothing for an empty stream", async () => {
    expect(await run(["-"], [])).toMatchObject({ code: 0, out: "", err: "" });
  });
});
