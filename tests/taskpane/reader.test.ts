import { describe, expect, it, vi } from "vitest";
import { REPORT_DATE } from "../../src/book/demo/programme.ts";
import { DEMO_SEED, demoBook } from "../../src/book/demo/workbook.ts";
import { readWorkbook } from "../../src/book/reading/workbook.ts";
import { newStore } from "../../taskpane/pane/state/state.ts";
import { onPaper } from "../../taskpane/paper.ts";
import { paperHost } from "../browser/host.ts";
import { bookOf, on, sheetOf } from "../scenes/scene.ts";
import { emptyPaper } from "./paper.ts";

/** The demonstration as people keep it, with its faults. */
const UNTIDY = onPaper(emptyPaper(), demoBook(DEMO_SEED, true).plan);
const WHOLE = readWorkbook(UNTIDY, REPORT_DATE);

describe("the pane's reader", () => {
  it("has the devices before what is told beside them has come, and then all of it", async () => {
    // As in a page that was just opened.
    vi.resetModules();
    const { deskOver } = await import("../../taskpane/pane/state/desk.ts");
    const { second } = await import("../../taskpane/pane/state/second.ts");
    const desk = deskOver(newStore());
    await desk.connected(paperHost(UNTIDY, REPORT_DATE));
    const early = desk.state().book;
    expect(early?.reading.devices).toEqual(WHOLE.devices);
    expect(early?.reading.problems.length).toBeLessThan(WHOLE.problems.length);
    expect(desk.state().said).toBe(`Read: ${WHOLE.devices.length} devices on Equipment.`);

    await second.fetched();
    await vi.waitFor(() => {
      expect(desk.state().book?.begun).toBeNull();
    });
    const { book, said } = desk.state();
    expect(book?.reading).toEqual(WHOLE);
    expect(book?.reading.devices).toBe(early?.reading.devices);
    expect(said).toMatch(/devices on Equipment, \d+ faults\.$/);

    await desk.read();
    expect(desk.state().book?.begun).toBeNull();
    expect(desk.state().book?.reading).toEqual(WHOLE);
  });

  it("says that there is no register at once, and then what there is", async () => {
    vi.resetModules();
    const { deskOver } = await import("../../taskpane/pane/state/desk.ts");
    const { second } = await import("../../taskpane/pane/state/second.ts");
    const card = sheetOf("Unit 4", [
      ["Device", "HS-004"],
      ["Site", "North"],
      ["Electrode set replaced", on("2026-05-04")],
      ["Ear cushion replaced", on("2026-05-04")],
    ]);
    const desk = deskOver(newStore());
    await desk.connected(paperHost(bookOf([card]), REPORT_DATE));
    const early = desk.state().trouble;
    expect(early?.kind).toBe("register");
    expect(early?.sentence).toMatch(/^No equipment register found: .* Setup which sheet/);
    await second.fetched();
    await vi.waitFor(() => {
      expect(desk.state().trouble?.sentence).toMatch(/; the sheet Unit 4 is a card of one device/);
    });
    await vi.waitFor(() => {
      expect(desk.state().busy).toBeNull();
    });
  });
});
