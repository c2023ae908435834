// The pane over a workbook on paper: what the browser tests drive. The test says which scene before.
import { functions } from "../../functions/index.ts";
import { REPORT_DATE } from "../../src/book/demo/programme.ts";
import { DEMO_SEED, demoBook } from "../../src/book/demo/workbook.ts";
import type { Plan } from "../../src/book/workbook/plan.ts";
import type { Snapshot } from "../../src/book/workbook/snapshot.ts";
import { mount } from "../../taskpane/pane/mount.ts";
import { onPaper } from "../../taskpane/paper.ts";
import { emptyPaper, paperSheet } from "../taskpane/paper.ts";
import { randomBook } from "../scenes/random-book.ts";
import { paperHost } from "./host.ts";
import { hostilePlan, TURN } from "./hostile.ts";

const MARKUP = '<img src=x onerror="globalThis.obeyed=1">';

const planned = (plan: Plan): Snapshot => onPaper(emptyPaper(), plan);
const bare = (name: string, rows: (string | number | null)[][]): Snapshot => ({
  ...emptyPaper(),
  sheets: [paperSheet(name, rows)],
});

/** Workbooks to open the pane on, by name. */
const scenes: Readonly<Record<string, () => Snapshot>> = {
  clean: () => planned(demoBook(DEMO_SEED, false).plan),
  untidy: () => planned(demoBook(DEMO_SEED, true).plan),
  large: () => planned(randomBook(10_000, 5, 1900)),
  hostile: () => planned(hostilePlan(TURN)),
  empty: () => bare("Sheet1", []),
  undated: () =>
    bare("Devices", [
      ["Device", "Site", "Model"],
      ["D1", "S01", "M"],
      ["D2", "S01", "M"],
    ]),
  patients: () =>
    bare("Devices", [
      ["Device", "Site", "Patient name"],
      ["D1", "S01", "x"],
    ]),
  markup: () =>
    bare(MARKUP.slice(0, 31).replaceAll(/[[\]*?:/\\]/g, ""), [
      ["Device", "Site", `Electrode set replaced`, `Note ${MARKUP}`],
      [`D1 ${MARKUP}`, MARKUP, "12/13/2025 <b>", MARKUP],
      [`D2 ${MARKUP}`, `S02 ${MARKUP}`, 45900, MARKUP],
    ]),
};

/** What test and page tell each other. */
interface Shared {
  answers?: () => unknown;
  scene?: string;
  workbook?: ReturnType<typeof paperHost> & { readonly began: number };
}

const shared = globalThis as typeof globalThis & Shared;
shared.answers = () =>
  functions.map(({ call, examples }) => examples.map(({ cells }) => call(cells)));
const { scene = "clean" } = shared;
const desk = mount();
if (scene === "alone") desk.alone("Excel's own script did not load.");
else {
  const host = paperHost((scenes[scene] ?? scenes["clean"] ?? emptyPaper)(), REPORT_DATE);
  shared.workbook = { ...host, began: performance.now() };
  void desk.connected(host);
}
