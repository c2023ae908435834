import fc from "fast-check";
import { afterEach, describe, expect, it, vi } from "vitest";
import { type Answer, type CellError, isRows, type Result } from "../../functions/answer.ts";
import { define, type Definition, defineRow } from "../../functions/define.ts";
import { register } from "../../functions/excel.ts";
import { functions } from "../../functions/index.ts";
import { day } from "../../src/core/day.ts";
import { cases } from "../cases.ts";

type Named = Definition["args"][number];

/** How often each function is called with whatever comes. */
const ANYTHING = cases("Each function, whatever comes", 3_000, 100);

function named(id: string): Definition {
  const found = functions.find((one) => one.id === id);
  if (!found) throw new Error(`there is no function ${id}`);
  return found;
}

function isError(answer: Result): answer is CellError {
  return typeof answer === "object" && !isRows(answer);
}

/** One good call of a function, from its own first example. */
function good({ examples }: Definition): readonly unknown[] {
  return examples[0]?.cells ?? [];
}

/** Values that are wrong for a kind of argument, whatever its limits. */
const wrong: Readonly<Record<Named["kind"], readonly unknown[]>> = {
  number: ["text", true, { error: "#N/A" }, NaN, Infinity, -Infinity, [[[1]]]],
  whole: ["text", true, { error: "#N/A" }, NaN, Infinity, 1.5, 1e300, -1],
  date: ["1.5.2026", true, { error: "#REF!" }, NaN, Infinity, -1, 60, 1e300],
  flag: ["yes", 2, -1, NaN, { error: "#N/A" }],
  text: [true],
  weekend: ["sat", 99, -1, NaN, true],
};

const blanks = [null, undefined, ""] as const;

function withCell(definition: Definition, index: number, cell: unknown): Result {
  const cells = [...good(definition)];
  while (cells.length < index) cells.push(null);
  cells[index] = cell;
  return definition.call(cells);
}

for (const definition of functions) {
  describe(definition.id, () => {
    definition.args.forEach((arg, index) => {
      if (arg.raw) {
        it(`takes anything as ${arg.name}, faults being its matter`, () => {
          for (const cell of ["text", NaN, { error: "#N/A" }, null, "", -1, Infinity]) {
            const answer = withCell(definition, index, cell);
            const fits = !isError(answer) || answer.message.startsWith(`${arg.name} must be`);
            expect(fits && answer !== "").toBe(true);
          }
        });
        return;
      }
      it(`names ${arg.name} when it is wrong`, () => {
        for (const cell of wrong[arg.kind]) {
          const answer = withCell(definition, index, cell);
          expect(answer).toMatchObject({ error: "#VALUE!" });
          const { message } = answer as CellError;
          expect(message).toMatch(new RegExp(`^${arg.name} must be .+, got .*[^.]$`));
        }
      });
      it(`answers a blank ${arg.name} by the rule, null, "" and nothing alike`, () => {
        const answers = blanks.map((cell) => withCell(definition, index, cell));
        expect(answers[1]).toEqual(answers[0]);
        expect(answers[2]).toEqual(answers[0]);
        const [answer = ""] = answers;
        if (arg.takes === "row" && !arg.optional && !arg.blank) expect(answer).toBe("");
        if (arg.takes === undefined && !arg.optional) {
          expect(answer).toMatchObject({ error: "#VALUE!" });
          expect((answer as CellError).message).toMatch(/, got a blank cell$/);
        }
        if (arg.optional) expect(isError(answer)).toBe(false);
      });
    });

    it("never throws and never answers NaN or null, whatever comes", () => {
      const cell = fc.oneof(
        fc.constantFrom(...[null, "", 0, 1, -1, 61, 46000, NaN, Infinity, true, "x", 1e300, 0.5]),
        fc.constantFrom(
          { error: "#N/A" },
          { basicValue: 3 },
          { type: "Error" },
          [],
          [[]],
          [[1, 2]],
        ),
        fc.anything(),
      );
      const cells = fc.array(fc.oneof(cell, fc.array(cell), fc.array(fc.array(cell))));
      const check = fc.property(cells, (given) => {
        const answer = definition.call(given);
        const flat: readonly Answer[] = isRows(answer) ? answer.flat() : [answer];
        for (const one of flat) {
          if (typeof one === "number") expect(Number.isFinite(one)).toBe(true);
          else if (typeof one === "object") expect(one.message).not.toContain("internal fault");
          else expect(["string", "boolean"]).toContain(typeof one);
        }
      });
      fc.assert(check, { numRuns: ANYTHING });
    });

    it("refuses more cells than it has arguments", () => {
      const cells = [...definition.args.map(() => null), 1];
      const message = `arguments must be at most ${definition.args.length}, got ${cells.length}`;
      expect(definition.call(cells)).toEqual({ error: "#VALUE!", message });
    });
  });
}

describe("rows", () => {
  const { call: nextDue } = named("NEXTDUE");
  const { call: span } = named("SPAN");
  const { call: dueState } = named("DUESTATE");
  const last = day("2026-02-17");

  it("answers one cell for one cell and a column for a column", () => {
    expect(nextDue([last, 3])).toBe(day("2026-05-15"));
    expect(nextDue([[[last]], 3])).toBe(day("2026-05-15"));
    expect(
      nextDue([
        [[last], [last]],
        [[3], [6]],
      ]),
    ).toEqual([[day("2026-05-15")], [day("2026-08-17")]]);
    expect(span([[[150, 400]], 3, 6, 600])).toEqual([[4, 3]]);
  });
  it("lets a bad row answer its own error and the others answer", () => {
    expect(span([["x", null, 150], 3, 6, 600])).toEqual([
      [{ error: "#VALUE!", message: 'usesPerMonth must be a number of at least 0, got "x"' }],
      [3],
      [4],
    ]);
  });
  it("refuses columns of different height, naming one", () => {
    const message = "months must be a single cell or as many cells as the others (2), got 3";
    expect(
      nextDue([
        [last, last],
        [1, 2, 3],
      ]),
    ).toEqual({ error: "#VALUE!", message });
  });
  it("refuses a range where one cell is asked", () => {
    const answer = dueState([last, [[last], [last]]]);
    expect(answer).toEqual({
      error: "#VALUE!",
      message: "reportDate must be a date from 1900-03-01 on, got a range",
    });
  });
  it("takes a zero for a blank date, a blank usage and an argument left out", () => {
    expect(nextDue([0, 3])).toBe("");
    expect(span([0, 3, 6, 600])).toBe(3);
    expect(span([100, 3, 6, 600, 0, 0])).toBe(6);
    expect(nextDue([last, 3, 0, [[0], [""]]])).toBe(day("2026-05-15"));
    expect(dueState([0, last])).toBe("Check row");
  });
  it("drops a time of day, and unwraps values a host has wrapped", () => {
    expect(nextDue([last + 0.75, { basicValue: 3 }])).toBe(day("2026-05-15"));
  });
  it("never takes a due date that is text, blank or an error for fine", () => {
    for (const due of ["soon", null, "", { error: "#VALUE!" }]) {
      expect(dueState([due, last])).toBe("Check row");
    }
  });
  it("reckons in a 1904 workbook with the same days", () => {
    expect(nextDue([last - 1462, 3], 1462)).toBe(day("2026-05-15") - 1462);
    expect(nextDue([[last - 1462, null], 3, 1, [day("2026-05-15") - 1462]], 1462)).toEqual([
      [day("2026-05-14") - 1462],
      [""],
    ]);
    expect(named("ROWCHECK").call([last - 1462, 5, 3, 6, last - 1462], 1462)).toBe("OK");
  });
});

describe("counts as cells", () => {
  const { call: useRate } = named("USERATE");
  const [january, february] = [day("2026-01-01"), day("2026-02-01")];
  it("passes over rows that are blank in both, and a blank is never zero", () => {
    expect(
      useRate([
        [62, "", null],
        [january, null, ""],
      ]),
    ).toBe(60.87375);
    expect(
      useRate([
        [62, 0, 0],
        [january, february, 0],
      ]),
    ).toBe(60.87375);
    expect(useRate([[62, 0], [january, february], 3, true])).toBeCloseTo(31.985, 3);
  });
  it("refuses a count without a month and lists of different length", () => {
    expect(
      useRate([
        [62, 5],
        [january, null],
      ]),
    ).toEqual({
      error: "#VALUE!",
      message: "monthStarts must be a date, got a blank cell",
    });
    expect(useRate([[62, 5], [january]])).toEqual({
      error: "#VALUE!",
      message: "monthStarts must be as many cells as counts (2), got 1",
    });
  });
});

describe("cells that hold no number or a real 0", () => {
  const [due, today] = [day("2026-05-15"), day("2026-05-01")];
  it("reads TRUE and FALSE as text, where faults are the matter of the function", () => {
    expect(named("ROWCHECK").call([true, 120, 3, 6, today])).toBe("Date is text");
    expect(named("ROWCHECK").call([today, false, 3, 6, today])).toBe("Usage is text");
    expect(named("DUESTATE").call([true, today])).toBe("Check row");
  });
  it("takes a part of a day's notice for none, so that a real 0 can be handed over", () => {
    const state = (notice: number) => named("DUESTATE").call([due, today, notice]);
    expect([1e-9, 13.9, 14.2].map(state)).toEqual(["Not due", "Not due", "Due soon"]);
  });
});

describe("a fault of our own", () => {
  const said = {
    ...{ id: "SPAN" as const, about: "", see: "", examples: [] },
    gives: { kind: "number", about: "" },
  } as const;
  const run = (): never => {
    throw new TypeError("no such thing");
  };
  const fault = {
    error: "#N/A",
    message: "internal fault, please report it: TypeError: no such thing",
  };
  it("is told as one, not as the caller's", () => {
    expect(define({ ...said, args: {}, run }).call([])).toEqual(fault);
    const args = { a: { kind: "number", about: "", takes: "row" } } as const;
    expect(defineRow({ ...said, args, run: () => run }).call([[1, 2]])).toEqual([[fault], [fault]]);
  });
});

describe("Excel", () => {
  type Associated = (...cells: unknown[]) => unknown;
  afterEach(() => {
    vi.unstubAllGlobals();
  });

  class CellFault {
    readonly code: string;
    readonly message: string;
    constructor(code: string, message: string) {
      this.code = code;
      this.message = message;
    }
  }
  function host(offered: object): Map<string, Associated> {
    const associated = new Map<string, Associated>();
    const associate = (id: string, run: Associated): unknown => associated.set(id, run);
    vi.stubGlobal("CustomFunctions", { associate, ...offered });
    register(
      () => functions,
      () => 0,
    );
    return associated;
  }
  const errors = {
    Error: CellFault,
    ErrorCode: { notAvailable: "#N/A", invalidValue: "#VALUE!" },
  };

  it("is handed every function, and gets rows of cells whatever the answer", () => {
    const associated = host(errors);
    expect([...associated.keys()]).toEqual(functions.map(({ id }) => id));
    const call = { address: "Sheet1!A1" };
    expect(associated.get("SPAN")?.([[120]], [[3]], [[6]], [[600]], null, null, call)).toEqual([
      [5],
    ]);
  });
  it("gets errors with their sentence, whole or in their row", () => {
    const associated = host(errors);
    const wanted = 'usesPerMonth must be a number of at least 0, got "x"';
    expect(associated.get("SPAN")?.([["x"], [120]], 3, 6, 600, null, null, {})).toEqual([
      [new CellFault("#VALUE!", wanted)],
      [5],
    ]);
    expect(associated.get("USERATE")?.([[""]], [[46000]], null, null, {})).toEqual([
      [new CellFault("#N/A", "needs at least one month with a count")],
    ]);
  });
  it("gets errors as text where it offers no error object", () => {
    const associated = host({});
    expect(associated.get("USERATE")?.([[""]], [[46000]], null, null, {})).toEqual([
      ["#N/A needs at least one month with a count"],
    ]);
  });
});
