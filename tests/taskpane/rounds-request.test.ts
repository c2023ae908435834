import { beforeAll, describe, expect, it } from "vitest";
import { REPORT_DATE } from "../../src/book/demo/programme.ts";
import { DEMO_SEED, demoBook } from "../../src/book/demo/workbook.ts";
import { roundsChange } from "../../src/book/day/rounds-change.ts";
import { roundsOf } from "../../src/book/day/rounds.ts";
import { readWorkbook } from "../../src/book/reading/workbook.ts";
import { headingColumn, headingRow } from "../../src/book/sheets/layout.ts";
import { resultPlan } from "../../src/book/sheets/result-plan.ts";
import { type CellValue, sheetNamed, type Snapshot } from "../../src/book/workbook/snapshot.ts";
import { deskOver } from "../../taskpane/pane/state/desk.ts";
import { second } from "../../taskpane/pane/state/second.ts";
import { roundsLogged } from "../../taskpane/pane/state/rounds-request.ts";
import { newStore } from "../../taskpane/pane/state/state.ts";
import { onPaper } from "../../taskpane/paper.ts";
import { paperHost } from "../browser/host.ts";
import { emptyPaper } from "./paper.ts";

beforeAll(second.fetched);

const DEMO = onPaper(emptyPaper(), demoBook(DEMO_SEED, false).plan);

/** The demonstration with round sheets of the report date's week, the first row of the first one typed into. */
function typed(cells: Readonly<Record<string, CellValue>>): Snapshot {
  const reading = readWorkbook(DEMO, REPORT_DATE);
  const found = roundsOf(DEMO, reading, { monday: REPORT_DATE, sites: [] });
  const plan = resultPlan(DEMO, reading, { ...roundsChange(found), today: REPORT_DATE });
  const book = onPaper(DEMO, plan);
  const name = book.sheets.find((sheet) => sheet.name.startsWith("Round sheet"))?.name ?? "";
  const sheet = sheetNamed(book, name);
  if (sheet === null) throw new Error("no round sheet");
  const row = headingRow(sheet) + 1;
  const edits = Object.entries(cells).map(([heading, value]) => {
    const column = headingColumn(sheet, heading) ?? -1;
    const blocks = [{ column, rows: [row], values: [value] }];
    return { kind: "fillCells" as const, sheet: name, blocks, expects: {} };
  });
  return onPaper(book, { summary: "typed", edits });
}

async function opened(book: Snapshot) {
  const host = paperHost(book, REPORT_DATE);
  const desk = deskOver(newStore());
  await desk.connected(host);
  const rows = (): number =>
    (sheetNamed(host.book(), "Job log")?.values ?? []).filter((row) =>
      row.some((value) => value !== null),
    ).length;
  return { desk, rows };
}

describe("what was typed into round sheets, in the pane", () => {
  it("is shown, logged once, and taken back", async () => {
    const book = typed({ "Date 1": REPORT_DATE, "Clean 1": "x", "By 1": "LS" });
    const { desk, rows } = await opened(book);
    const before = rows();
    await desk.propose("share", roundsLogged(REPORT_DATE));
    const { proposal } = desk.state();
    if (proposal === null) throw new Error(`nothing was proposed: ${String(desk.state().refusal)}`);
    expect(proposal.notes.join()).toMatch(/Round sheet .*: inspected .* on 2026-07-06, clean/);
    expect(rows()).toBe(before);
    await desk.apply(proposal);
    expect(rows()).toBe(before + 1);
    await desk.propose("share", roundsLogged(REPORT_DATE));
    expect(desk.state().refusal).toBe("Nothing needs to be changed.");
    await desk.takeBack();
    expect(rows()).toBe(before);
    const { desk: again } = await opened(book);
    await again.propose("share", roundsLogged(REPORT_DATE));
    expect(again.state().proposal).not.toBeNull();
  });

  it("is refused as a whole with every reason", async () => {
    const book = typed({
      "Date 1": "Monday",
      "By 1": "LS",
      "Date 2": REPORT_DATE,
      "Clean 2": "x",
    });
    const { desk, rows } = await opened(book);
    const before = rows();
    await desk.propose("share", roundsLogged(REPORT_DATE));
    expect(desk.state().proposal).toBeNull();
    expect(desk.state().refusal).toMatch(/Date 1 must be a date.*By 2 is blank/s);
    expect(rows()).toBe(before);
  });
});
