import { expect, it } from "vitest";
import { REPORT_DATE } from "../../src/book/demo/programme.ts";
import { deskOver } from "../../taskpane/pane/desk.ts";
import { second } from "../../taskpane/pane/second.ts";
import { newStore } from "../../taskpane/pane/state.ts";
import { paperHost } from "../browser/host.ts";
import { bookOf, on, sheetOf } from "../scenes/scene.ts";

const KIT = sheetOf("Kit", [
  ["Where", "Given out", "No.", "Cups changed"],
  ["Quorrow", on("2026-01-10"), "K-1", on("2026-05-04")],
  ["Quorrow", on("2026-02-10"), "K-2", on("2026-05-04")],
]);

// What works the way out comes after the first list, as the rest of what is told does.
it("a workbook without a register is told at once, and the way out as soon as it can be worked out", async () => {
  const desk = deskOver(newStore());
  await desk.connected(paperHost(bookOf([KIT]), REPORT_DATE));
  expect(desk.state().trouble?.kind).toBe("register");
  await second.fetched();
  const told = (): string => desk.state().trouble?.sentence ?? "";
  await expect.poll(told).toContain("write Device over the column that names the devices");
  await desk.read();
  expect(told()).toContain("the most promising is row 1 of the sheet Kit");
});
