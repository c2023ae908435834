import { afterAll, describe, expect, it } from "vitest";
import { isRows, type Result } from "../../functions/answer.ts";
import type { Definition } from "../../functions/define.ts";
import { register } from "../../functions/excel.ts";
import { functions } from "../../functions/index.ts";
import { onDemand } from "../../taskpane/on-demand.ts";
import { type Call, type Cell, runtimeOf } from "./runtime.ts";

const SCRIPTS = ["excel-win32-16.01.js", "excel-web-16.00.js", "excel-mac-16.00.js"];

/** What a blank cell may reach a function as, and an error within a range (the script makes an object of it). */
const BLANKS = [null, "", 0] as const;
const BROKEN = { type: "CustomFunctionError", code: "#N/A" };

/** A call of a function, and what the function itself gives for the same cells. */
interface Tried extends Call {
  readonly gives: Result;
}

type Given = Definition["examples"][number]["cells"];

/** Cells as Excel hands them over: each argument a range, a blank cell as `blank`. */
function handed(cells: Given, blank: (typeof BLANKS)[number]): Call["given"] {
  return cells.map((cell) => {
    if (cell === null) return null;
    if (!Array.isArray(cell)) return [[cell]];
    return cell.map((row: unknown) =>
      (Array.isArray(row) ? row : [row]).map((one: unknown) => one ?? blank),
    );
  });
}

/** Every example as it may come: left out arguments at the end there or not, blanks as each of the three. */
function examplesOf(definition: Definition): Tried[] {
  const { id, args, examples } = definition;
  return examples.flatMap(({ cells, gives }) => {
    const full = [...cells];
    while (full.length < args.length) full.push(null);
    const bare = [...cells];
    while (bare.at(-1) === null) bare.pop();
    return BLANKS.flatMap((blank) =>
      [full, bare].map((row) => {
        const given = handed(row, blank);
        // A blank that comes as 0 is one where no 0 can be meant; elsewhere it is a 0 like another.
        return { id, given, gives: blank === 0 ? definition.call(given) : gives };
      }),
    );
  });
}

/** The first example with a text, a truth value, a blank or an error in each argument in turn. */
function oddOf(definition: Definition): Tried[] {
  const [example] = definition.examples;
  const cells = example?.cells ?? [];
  const odd = ["text", true, -1, 1.5, 46_000, null, "", 0, BROKEN];
  return definition.args.flatMap((arg, at) =>
    odd.flatMap((one) => {
      const given = [...cells];
      while (given.length <= at) given.push(null);
      const there = given[at];
      // Within a column the odd cell stands last.
      given[at] =
        Array.isArray(there) && arg.takes !== undefined
          ? [...(there as unknown[]).slice(0, -1), one]
          : [[one]];
      const mine = handed(given, null);
      return [{ id: definition.id, given: mine, gives: definition.call(mine) }];
    }),
  );
}

/** A result as cells. */
function cellsOf(result: Result): Cell[][] {
  const rows = isRows(result) ? result : [[result]];
  return rows.map((row) =>
    row.map((cell) =>
      typeof cell === "object" ? { code: cell.error, message: cell.message } : cell,
    ),
  );
}

/** What came back, errors by what matters of them. */
function shown(rows: readonly Cell[][] | undefined): Cell[][] | undefined {
  return rows?.map((row) =>
    row.map((cell) => {
      if (typeof cell !== "object") return cell;
      const { code, message } = cell;
      return { code, message };
    }),
  );
}

const before: unknown = (globalThis as { CustomFunctions?: unknown }).CustomFunctions;
afterAll(() => {
  Object.assign(globalThis, { CustomFunctions: before });
});

describe.each(SCRIPTS)("functions in cells through %s", (script) => {
  it.each([true, false])("give what the library gives; answers in arrays: %s", async (inArrays) => {
    const { offered, answers } = runtimeOf(script, inArrays);
    Object.assign(globalThis, { CustomFunctions: offered });
    register(
      () => functions,
      () => 0,
    );
    const tried = functions.flatMap((one) => [...examplesOf(one), ...oddOf(one)]);
    const found = await answers(tried);
    const wrong = tried.flatMap(({ id, given, gives }, at) => {
      const [is, should] = [shown(found[at]), cellsOf(gives)];
      return JSON.stringify(is) === JSON.stringify(should) ? [] : [{ id, given, is, should }];
    });
    process.stdout.write(
      `${script}: ${new Set(tried.map(({ id }) => id)).size} functions, ${tried.length} calls\n`,
    );
    expect(wrong.slice(0, 5)).toEqual([]);
    expect(new Set(tried.map(({ id }) => id)).size).toBe(functions.length);
  });

  it("are called before they have come, and answer the same once they have", async () => {
    const { offered, answers } = runtimeOf(script, true);
    Object.assign(globalThis, { CustomFunctions: offered });
    let comes: (all: readonly Definition[]) => void = () => undefined;
    const coming = new Promise<readonly Definition[]>((done) => (comes = done));
    let there: readonly Definition[] | null = null;
    register(
      () => there ?? coming,
      () => 0,
    );
    const tried = functions.flatMap(examplesOf);
    const should = tried.map(({ gives }) => cellsOf(gives));
    const early = answers(tried);
    await new Promise((resolve) => setTimeout(resolve, 50));
    comes(functions);
    expect((await early).map(shown)).toEqual(should);
    there = functions;
    expect((await answers(tried)).map(shown)).toEqual(should);
  });

  it.each([true, false])(
    "say so where they cannot be had, and are had at the next call; answers in arrays: %s",
    async (inArrays) => {
      const { offered, answers } = runtimeOf(script, inArrays);
      Object.assign(globalThis, { CustomFunctions: offered });
      let isThere = false;
      const source = onDemand(() =>
        isThere ? Promise.resolve(functions) : Promise.reject(new Error("no network")),
      );
      register(
        () => source.there() ?? source.fetched(),
        () => 0,
      );
      const call: Call = { id: "SPAN", given: [[[120]], [[3]], [[6]], [[600]], null, null] };
      const message =
        "the functions could not be loaded; check the connection, then calculate again";
      expect((await answers([call])).map(shown)).toEqual([[[{ code: "#N/A", message }]]]);
      isThere = true;
      expect((await answers([call])).map(shown)).toEqual([[[5]]]);
      expect(source.there()).toBe(functions);
    },
  );

  it("are not found by a call that comes before they are handed over", async () => {
    const { offered, answers } = runtimeOf(script, true);
    Object.assign(globalThis, { CustomFunctions: offered });
    const call: Call = { id: "SPAN", given: [[[120]], [[3]], [[6]], [[600]], null, null] };
    expect(await answers([call])).toEqual([undefined]);
    register(
      () => functions,
      () => 0,
    );
    expect((await answers([call])).map(shown)).toEqual([[[5]]]);
  });

  it("count dates as the workbook does", async () => {
    const { offered, answers } = runtimeOf(script, true);
    Object.assign(globalThis, { CustomFunctions: offered });
    const lag = 1462;
    register(
      () => functions,
      () => lag,
    );
    const due = functions.find(({ id }) => id === "NEXTDUE");
    const given = handed([46_000 - lag, 3], null);
    const [found] = await answers([{ id: "NEXTDUE", given }]);
    expect(shown(found)).toEqual([[Number(due?.call([46_000, 3])) - lag]]);
  });
});
