import { kindsTable } from "./kinds.ts";
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { describe, expect, it } from "vitest";
import { circles } from "./circles.ts";
import { figures, isFigure, lastBench } from "./figures.ts";
import { markdown, signature } from "../functions/help.ts";
import { functions } from "../functions/index.ts";
import { metadata } from "../functions/json.ts";
import { helpIndex, helpPage, pagePath } from "../functions/page.ts";

const root = new URL("../", import.meta.url);
const at = (path: string): URL => new URL(path, root);

const ADDRESS = "https://sparespan.example/";

/** Core files without a test of their own, each with its reason. */
const exempt: Readonly<Record<string, string>> = {
  "index.ts": "only hands on what the other files export",
  "errors.ts": "its sentences are compared in the tests of every other file",
};

/**
 * What has been shipped. A line here never changes: sheets out there hold these names and orders. A
 * new argument goes to the end of the function, optional; its name is then added here.
 */
const shipped = [
  "SPARE.SPAN(usesPerMonth, shortest, longest, [useBudget], [lightUse], [heavyUse])",
  "SPARE.NEXTDUE(lastDone, months, [weekend], [holidays])",
  "SPARE.DUESTATE(due, reportDate, [noticeDays], [finding])",
  "SPARE.CHECKBY(checkDates, reportDate, [perWeek], [weekend], [holidays])",
  "SPARE.CHECKSKEPT(checkDates, from, to, [perWeek])",
  "SPARE.USERATE(counts, monthStarts, [recent], [zeroCounts])",
  "SPARE.USEAHEAD(counts, monthStarts, months, [level])",
  "SPARE.REPLACEAHEAD(lastDone, months, from, horizon, [shape], [scale])",
  "SPARE.YEARNEED(lastDone, months, from, [horizon], [shape], [scale], [level])",
  "SPARE.LIFEFIT(monthsInUse, worn)",
  "SPARE.SURVIVE(monthsInUse, worn, at)",
  "SPARE.BESTSPAN(shape, scale, plannedCost, earlyCost, shortest, longest)",
  "SPARE.REORDERPOINT(perMonth, leadMonths, [service], [floor], [variancePerMonth], [leadSd], [plannedUnits])",
  "SPARE.STOCKODDS(onHand, perMonth, leadMonths, [variancePerMonth], [leadSd])",
  "SPARE.EXPECTEDSHORT(onHand, perMonth, leadMonths, [variancePerMonth], [leadSd])",
  "SPARE.ORDERSIZE(need, pack, [onHand], [onOrder], [minimum])",
  "SPARE.ECONOMICORDER(perYear, orderCost, holdingPerUnit, [pack])",
  "SPARE.ORDERBY(needDate, leadDays, [weekend], [holidays])",
  "SPARE.PLACESPARES(perMonth, leadMonths, unitCost, budget, [floor])",
  "SPARE.PACKCOST(need, pack, packPrice, [onHand], [endStock], [rise], [years])",
  "SPARE.BUDGETAT(expected, price, [level], [variance])",
  "SPARE.KEPTRATE(done, due, [level], [exact])",
  "SPARE.ROWCHECK(lastDone, usesPerMonth, shortest, longest, reportDate)",
  "SPARE.LABELPART(scan, part)",
];

describe("the map", () => {
  for (const file of readdirSync(at("src/core/")).filter((name) => name.endsWith(".ts"))) {
    it(`src/core/${file} has a test of the same name, or a reason`, () => {
      const has = existsSync(at(`tests/core/${file.replace(/\.ts$/, ".test.ts")}`));
      expect(has || file in exempt).toBe(true);
    });
  }
  it("has no circle of imports, types included", () => {
    expect(circles(root, ["src/", "functions/", "taskpane/"])).toEqual([]);
  });
  it("would show two files that import each other's types, and none that only imports them", () => {
    const folder = mkdtempSync(join(tmpdir(), "circles-"));
    const write = (name: string, text: string): void => {
      writeFileSync(join(folder, name), text);
    };
    write("one.ts", 'import type { Other } from "./other.ts";');
    write("other.ts", 'import type { One } from "./one.ts";');
    write("third.ts", 'import { one } from "./one.ts";');
    expect(circles(pathToFileURL(`${folder}/`), ["./"])).toEqual([["one.ts", "other.ts"]]);
    rmSync(folder, { recursive: true });
  });
  it.each([
    ["README.md", "functions", markdown(functions)],
    ["README.md", "bench", figures()],
    ["docs/workbooks.md", "kinds", kindsTable()],
  ])("%s shows the %s as they are made; if not, run npm run docs", (path, name, made) => {
    const page = readFileSync(at(path), "utf8");
    const block = new RegExp(`<!-- ${name} -->\n\n([^]*)\n<!-- /${name} -->`).exec(page);
    expect(block?.[1]).toBe(made);
  });
  it("shows figures alone, no line of progress", () => {
    const progress = ["Building the page …\n", "Building: half a minute …\n", "no figure"];
    const said = ["  a job, 10 rows: 0.1 s", ...progress];
    expect(said.filter(isFigure)).toEqual(said.slice(0, 1));
    const made = figures({ date: "2026-07-06", machine: "a machine", said });
    expect(made.split("\n").slice(4)).toEqual(["| a job, 10 rows | 0.1 s |", ""]);
    expect(lastBench().said.filter((line) => !isFigure(line))).toEqual([]);
  });
});

describe("README's numbers", () => {
  const readme = readFileSync(at("README.md"), "utf8");
  it("of Excel are those the manifest asks for", () => {
    const sets = readFileSync(at("manifest.xml"), "utf8").matchAll(
      /<Set Name="(\w+)" MinVersion="([\d.]+)"/g,
    );
    const asked = [...sets].map(([, name = "", version = ""]) => `${name} ${version}`);
    expect(asked.length).toBeGreaterThan(2);
    for (const one of asked) expect(readme).toContain(one);
  });
  it("of Node is the one the package asks for", () => {
    const { engines } = JSON.parse(readFileSync(at("package.json"), "utf8")) as {
      readonly engines: { readonly node: string };
    };
    expect(readme).toContain(
      `[Node](https://nodejs.org) ${engines.node.replace(">=", "")} or newer`,
    );
  });
});

describe("the declarations", () => {
  it("keep the names and the order of arguments that were shipped", () => {
    expect(functions.map(signature)).toEqual(shipped);
  });
  it("have ids of three or more capital letters and no digit, so that no cell bears the name, none twice", () => {
    const ids = functions.map(({ id }) => id);
    for (const id of ids) expect(id).toMatch(/^[A-Z]{3,32}$/);
    expect(new Set(ids).size).toBe(ids.length);
  });
  it("describe functions and arguments in one line of at most 255 characters", () => {
    for (const { about, args, see, gives } of functions) {
      for (const text of [about, see, gives.about, ...args.map((arg) => arg.about)]) {
        expect(text).toMatch(/^[A-Z].{2,253}[.]$|^[A-Z].{2,253}[^.\s]$/);
      }
    }
  });
  it("put optional arguments last, and give a default only to those", () => {
    for (const { args } of functions) {
      const optional = args.map((arg) => arg.optional === true);
      expect(optional).toEqual([...optional].sort((a, b) => Number(a) - Number(b)));
      for (const arg of args) if (arg.default !== undefined) expect(arg.optional).toBe(true);
    }
  });
});

describe("the help pages", () => {
  const pages = functions.map((one) => [pagePath(one), helpPage(one)] as const);
  it("are one a function, list their arguments, and escape what could be markup", () => {
    for (const [at, [path, page]] of pages.entries()) {
      const one = functions[at];
      expect(path).toBe(`help/${one?.id.toLowerCase() ?? ""}.html`);
      for (const { name } of one?.args ?? []) expect(page).toContain(`<code>${name}</code>`);
      expect(page.replaceAll(/<\/?[a-z][^<>]*>|<!doctype html>/gi, "")).not.toMatch(/[<>]/);
      expect(page).not.toMatch(/<script|\son[a-z]+=/i);
    }
    expect(new Set(pages.map(([path]) => path)).size).toBe(functions.length);
  });
  it("are all listed on one page", () => {
    const list = helpIndex(functions);
    for (const [path] of pages) expect(list).toContain(`href="${path.replace("help/", "")}"`);
  });
});

describe("functions.json", () => {
  const json = JSON.parse(JSON.stringify(metadata(functions, ADDRESS))) as {
    readonly functions: readonly {
      readonly id: string;
      readonly parameters: readonly { readonly name: string; readonly optional?: boolean }[];
    }[];
  };
  it("holds every function with its arguments in order", () => {
    const lines = json.functions.map(({ id, parameters }) => {
      const names = parameters.map(({ name, optional }) => (optional ? `[${name}]` : name));
      return `SPARE.${id}(${names.join(", ")})`;
    });
    expect(lines).toEqual(shipped);
  });
  it("is the copy kept in tests/reference; if it is meant to differ, run npm run docs", () => {
    const kept = readFileSync(at("tests/reference/functions.json"), "utf8");
    expect(json).toEqual(JSON.parse(kept));
  });
  it("has the shape that Excel reads", () => {
    const text: unknown = expect.any(String);
    const range = { type: "any", dimensionality: "matrix" };
    const parameter = { ...range, name: text, description: text };
    for (const one of json.functions) {
      expect(one).toEqual({
        id: one.id,
        name: one.id,
        description: text,
        helpUrl: `${ADDRESS}help/${one.id.toLowerCase()}.html`,
        parameters: one.parameters.map(({ optional }) =>
          optional ? { ...parameter, optional: true } : parameter,
        ),
        result: range,
      });
      for (const { name } of one.parameters) expect(name).toMatch(/^[a-z][A-Za-z]{0,63}$/);
    }
  });
});
