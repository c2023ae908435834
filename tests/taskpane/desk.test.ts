import { beforeAll, describe, expect, it } from "vitest";
import { REPORT_DATE } from "../../src/book/demo/programme.ts";
import { DEMO_SEED, demoBook } from "../../src/book/demo/workbook.ts";
import { newRegisterPlan } from "../../src/book/sheets/new-register.ts";
import type { Plan } from "../../src/book/workbook/plan.ts";
import {
  type Sheet,
  sheetNamed,
  type Snapshot,
  valueAt,
} from "../../src/book/workbook/snapshot.ts";
import { readWorkbook } from "../../src/book/reading/workbook.ts";
import { applyPlan, newWorkbook, openWorkbook } from "../../src/xlsx/index.ts";
import { deskOver } from "../../taskpane/pane/state/desk.ts";
import { second } from "../../taskpane/pane/state/second.ts";
import { newStore, type Step } from "../../taskpane/pane/state/state.ts";
import { sentenceOf } from "../../taskpane/pane/state/trouble.ts";
import { columnsRequest, refreshStep } from "../../taskpane/pane/state/requests.ts";
import { HostError } from "../../taskpane/host.ts";
import { offPaper, onPaper } from "../../taskpane/paper.ts";
import { receiptOf } from "../../src/book/workbook/receipt.ts";
import { finished, oneStep } from "../../src/book/workbook/steps.ts";
import { columnsPlan } from "../../src/book/columns/columns-plan.ts";
import { BookError } from "../../src/book/workbook/errors.ts";
import { emptyPaper, paperSheet } from "./paper.ts";
import { sheetEdits, sheetPerSite } from "../scenes/several-sheets.ts";
import { paperHost } from "../browser/host.ts";

beforeAll(second.fetched);

const DEMO = onPaper(emptyPaper(), demoBook(DEMO_SEED, false).plan);

async function opened(book: Snapshot = DEMO) {
  const host = paperHost(book, REPORT_DATE);
  const desk = deskOver(newStore());
  await desk.connected(host);
  return { host, desk };
}

describe("the desk of the pane", () => {
  it("shows a change before it is done, does it once, and takes it back whole", async () => {
    const { host, desk } = await opened();
    await desk.propose("columns", columnsRequest("portable", REPORT_DATE));
    const { proposal } = desk.state();
    expect(proposal?.lines[0]).toMatch(/^15 columns for 35 rows, Equipment!/);
    expect(host.book()).toBe(DEMO);
    if (proposal === null) throw new Error("nothing was proposed");
    expect(await desk.apply(proposal)).toBe(true);
    expect(sheetNamed(host.book(), "Read me")).not.toBeNull();
    expect(desk.state().proposal).toBeNull();
    await desk.propose("columns", columnsRequest("portable", REPORT_DATE));
    expect(desk.state().refusal).toBe("Nothing needs to be changed.");
    await desk.takeBack();
    expect(cells(host.book())).toEqual(cells(DEMO));
    expect(desk.state().done).toEqual([]);
  });

  it("gives every register its columns in one change, and takes them all back", async () => {
    const book = onPaper(emptyPaper(), { summary: "sheets", edits: sheetEdits(sheetPerSite()) });
    const { host, desk } = await opened(book);
    await desk.propose("columns", columnsRequest("portable", REPORT_DATE));
    const { proposal } = desk.state();
    expect(proposal?.lines[0]).toMatch(/Northfield!.*Southport!.*Eastham!/);
    if (proposal === null) throw new Error("nothing was proposed");
    expect(await desk.apply(proposal)).toBe(true);
    for (const name of ["Northfield", "Southport", "Eastham"]) {
      const headings = sheetNamed(host.book(), name)?.values[0] ?? [];
      expect(headings).toContain("Ear cushion: state");
    }
    await desk.takeBack();
    expect(cells(host.book())).toEqual(cells(book));
  });

  it("keeps what was done before a later step failed, so that it can be taken back", async () => {
    const { host, desk } = await opened();
    const fails = (): Plan => {
      if (sheetNamed(host.book(), "Read me") === null) return { summary: "", edits: [] };
      throw new BookError("it fails");
    };
    const [columns] = columnsRequest("values", REPORT_DATE).steps;
    if (columns === undefined) throw new Error("no step");
    const proposal = finished(desk.workOut("columns", { steps: [columns, () => oneStep(fails)] }));
    expect(await desk.apply(proposal)).toBe(false);
    expect(desk.state().refusal).toBe("It fails.");
    expect(desk.state().done).toHaveLength(1);
    await desk.takeBack();
    expect(cells(host.book())).toEqual(cells(DEMO));
  });

  it("takes nothing back that was changed since, and says which cell", async () => {
    const { host, desk } = await opened();
    const proposal = finished(desk.workOut("columns", columnsRequest("values", REPORT_DATE)));
    await desk.apply(proposal);
    const sheet = sheetNamed(host.book(), "Equipment");
    const column = sheet?.values[2]?.indexOf("Electrode set: state") ?? -1;
    host.type({ sheet: "Equipment", row: 10, column }, "typed");
    const before = host.book();
    await desk.takeBack();
    expect(desk.state().refusal).toMatch(/^Equipment!Q11 has changed since/);
    expect(host.book()).toBe(before);
    expect(desk.state().done).toHaveLength(1);
  });

  it("writes native formulas in the place of worksheet functions, and the same answers stay", async () => {
    const { host, desk } = await opened();
    await desk.apply(finished(desk.workOut("columns", columnsRequest("live", REPORT_DATE))));
    const live = host.book();
    await desk.apply(finished(desk.workOut("share", columnsRequest("portable", REPORT_DATE))));
    const formulas = (book: Snapshot): string[] => [
      ...(sheetNamed(book, "Equipment")?.formulas.values() ?? []),
    ];
    expect(formulas(live).some((text) => text.includes("SPARE."))).toBe(true);
    expect(formulas(host.book()).some((text) => text.includes("SPARE."))).toBe(false);
    expect(formulas(host.book())).toHaveLength(formulas(live).length);
    const equipment = (book: Snapshot) => sheetNamed(book, "Equipment")?.values;
    expect(equipment(host.book())).toEqual(equipment(live));
  });

  it("judges on today although Setup holds an earlier date, and on a chosen date", async () => {
    const { desk } = await opened();
    await desk.choose({ reportDate: (REPORT_DATE - 30) as typeof REPORT_DATE });
    expect(desk.state().book?.reading.ours.settings.reportDate).toBe(REPORT_DATE - 30);
    await desk.choose({ reportDate: null });
    expect(desk.state().book?.reading.ours.settings.reportDate).toBe(REPORT_DATE);
  });

  it("proposes nothing where there are no columns to bring up to date", async () => {
    const { desk } = await opened();
    await desk.propose("today", { steps: [refreshStep(REPORT_DATE)] });
    expect(desk.state().proposal).toBeNull();
  });

  it("begins with a new register in a workbook without one", async () => {
    const { host, desk } = await opened({ ...emptyPaper(), sheets: [paperSheet("Sheet1", [])] });
    expect(desk.state().trouble?.kind).toBe("register");
    const plan = newRegisterPlan(REPORT_DATE, REPORT_DATE);
    const proposal = finished(desk.workOut("today", { steps: [() => oneStep(() => plan)] }));
    expect(host.book().sheets).toHaveLength(1);
    await desk.apply(proposal);
    expect(desk.state().trouble).toBeNull();
    expect(desk.state().book?.reading.devices).toEqual([]);
  });

  it("stops at patient data before anything else can be asked", async () => {
    const rows = [
      ["Device", "Site", "Patient name"],
      ["D1", "S01", "a value"],
    ];
    const { desk } = await opened({ ...emptyPaper(), sheets: [paperSheet("Devices", rows)] });
    const { trouble, book, said } = desk.state();
    expect(trouble?.kind).toBe("patients");
    expect(book).toBeNull();
    expect(`${trouble?.sentence ?? ""} ${said}`).not.toContain("a value");
  });

  it("says why a workbook cannot be read, and reads it when asked again", async () => {
    const host = paperHost(DEMO, REPORT_DATE);
    let fails = true;
    const desk = deskOver(newStore());
    await desk.connected({
      ...host,
      snapshot: (told) =>
        fails ? Promise.reject(new HostError("A cell is being edited.")) : host.snapshot(told),
    });
    expect(desk.state().trouble).toEqual({ kind: "host", sentence: "A cell is being edited." });
    fails = false;
    await desk.read();
    expect(desk.state().trouble).toBeNull();
    expect(desk.state().said).toBe("Read: 35 devices on Equipment, 0 faults.");
  });

  it("stops working out a change, and nothing is proposed", async () => {
    const { host, desk } = await opened();
    const endless: Step = function* () {
      for (;;) yield;
    };
    const proposing = desk.propose("ahead", { steps: [endless] });
    await new Promise((resolve) => setTimeout(resolve, 30));
    expect(desk.state().busy?.stoppable).toBe(true);
    desk.stop();
    await proposing;
    expect(desk.state()).toMatchObject({
      busy: null,
      proposal: null,
      refusal: "Stopped; nothing was changed.",
    });
    expect(host.book()).toBe(DEMO);
  });

  it("lets a choice wait for the end of what runs, and then judges by it", async () => {
    const { desk } = await opened();
    const later = (REPORT_DATE + 40) as typeof REPORT_DATE;
    const reading = desk.read();
    const choosing = desk.choose({ reportDate: later });
    expect(desk.state().reportDate).toBeNull();
    await Promise.all([reading, choosing]);
    await expect.poll(() => desk.state().book?.reading.ours.settings.reportDate).toBe(later);
    expect(desk.state().reportDate).toBe(later);
    expect(desk.state().busy).toBeNull();
  });

  it("proposes nothing to somebody who has gone on to another section", async () => {
    const { desk } = await opened();
    desk.go("columns");
    const proposing = desk.propose("columns", columnsRequest("values", REPORT_DATE));
    desk.go("check");
    await proposing;
    expect(desk.state().proposal).toBeNull();
  });

  it("does not apply what was shown for another day without showing it anew", async () => {
    const { host, desk } = await opened();
    const proposal = finished(desk.workOut("columns", columnsRequest("values", REPORT_DATE)));
    await desk.choose({ reportDate: (REPORT_DATE + 400) as typeof REPORT_DATE });
    const before = host.book();
    expect(await desk.apply({ ...proposal, lines: ["something else"] })).toBe(false);
    expect(host.book()).toBe(before);
  });

  it("keeps nothing of the workbook before when another one comes", async () => {
    const { desk } = await opened();
    await desk.apply(finished(desk.workOut("columns", columnsRequest("values", REPORT_DATE))));
    await desk.choose({ reportDate: (REPORT_DATE + 1) as typeof REPORT_DATE });
    await desk.replaced();
    const { done, reportDate, proposal, book } = desk.state();
    expect([done, reportDate, proposal]).toEqual([[], null, null]);
    expect(book?.reading.ours.settings.reportDate).toBe(REPORT_DATE);
  });

  it("offers to read again where the first reading was stopped", async () => {
    const host = paperHost(DEMO, REPORT_DATE);
    host.slow(200);
    const desk = deskOver(newStore());
    const connecting = desk.connected(host);
    await new Promise((resolve) => setTimeout(resolve, 30));
    desk.stop();
    await connecting;
    expect(desk.state().trouble).toEqual({
      kind: "host",
      sentence: "Stopped; nothing was changed.",
    });
    host.slow(0);
    await desk.read();
    expect(desk.state().trouble).toBeNull();
  });

  it("does one thing at a time", async () => {
    const { host, desk } = await opened();
    const proposal = finished(desk.workOut("columns", columnsRequest("values", REPORT_DATE)));
    const both = await Promise.all([desk.apply(proposal), desk.apply(proposal)]);
    expect(both).toEqual([true, false]);
    expect(desk.state().done).toHaveLength(1);
    await desk.takeBack();
    expect(cells(host.book())).toEqual(cells(DEMO));
  });

  it("speaks of no option of the command line", () => {
    const texts = [
      "It is already in the Job log; confirm it (--again) if it was done a second time.",
      "Equipment is protected; unprotect it first, or give --force",
      'Two columns may say when; choose one with --match "last:SET=its heading".',
      'no equipment register found; write Device over the column, or give --match "device=No."',
    ];
    for (const text of texts) expect(sentenceOf(new BookError(text))).not.toContain("--");
  });
});

describe("a plan on paper", () => {
  const bytes = newWorkbook(demoBook(DEMO_SEED, true).plan);
  const file = openWorkbook(bytes);
  const reading = readWorkbook(file.snapshot, REPORT_DATE, { reportDate: REPORT_DATE });
  const request = { mode: "portable", today: REPORT_DATE, force: false } as const;
  const plan = columnsPlan(file.snapshot, reading, request);

  it("gives what the file engine gives, cell by cell", () => {
    expect(cells(onPaper(file.snapshot, plan))).toEqual(
      cells(openWorkbook(applyPlan(file, plan)).snapshot),
    );
  });
  it("leaves the workbook it began with as it was, and taken back gives it again", () => {
    const before = JSON.stringify(cells(file.snapshot));
    const after = onPaper(file.snapshot, plan);
    const receipt = receiptOf(file.snapshot, plan);
    expect(JSON.stringify(cells(file.snapshot))).toBe(before);
    expect(cells(after)).not.toEqual(cells(file.snapshot));
    expect(cells(offPaper(after, receipt))).toEqual(cells(file.snapshot));
  });
});

/** What a workbook holds, blank ends left out: values, formulas, tables and names. */
function cells({ sheets, names }: Snapshot): unknown {
  return [
    sheets.map((sheet) => [sheet.name, valuesOf(sheet), [...sheet.formulas].sort(), sheet.tables]),
    names.map(({ name, refersTo }) => `${name} ${refersTo}`).sort(),
  ];
}

function valuesOf(sheet: Sheet): string[] {
  return sheet.values.flatMap((row, at) =>
    row.flatMap((_, column) => {
      const value = valueAt(sheet, at, column);
      return value === null || value === "" ? [] : [`${at}:${column} ${JSON.stringify(value)}`];
    }),
  );
}
