import { headingRow } from "../../../src/book/sheets/layout.ts";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import { afterAll, describe, expect, it } from "vitest";
import type { Job, ShelfItem } from "../../../src/book/records/records.ts";
import { traceDevice, traceLot } from "../../../src/book/evidence/trace.ts";
import type { Trace } from "../../../src/book/evidence/trace-place.ts";
import { lotChange } from "../../../src/book/evidence/lot-trace.ts";
import { resultEdits } from "../../../src/book/sheets/result.ts";
import { sheetNamed } from "../../../src/book/workbook/snapshot.ts";
import { type Day, day, isoText } from "../../../src/core/day.ts";
import { openWorkbook } from "../../../src/xlsx/index.ts";
import { checkOf, type Kit, programme } from "../../scenes/kept-scene.ts";
import { sparespan } from "../../cli/session.ts";
import { onPaper } from "../../taskpane/paper.ts";
import { jobOf, REPORT_DATE } from "../../scenes/scene.ts";

const KITS: readonly Kit[] = [
  { id: "A1" },
  { id: "A2", site: "S02" },
  { id: "A3", site: "S02", status: "retired" },
  { id: "A4", site: "S02", status: "retired", retired: "2026-05-20" },
];

function fitted(device: string, date: string, lot: string, more: Partial<Job> = {}): Job {
  return jobOf(device, "SET", date, { lot, ...more });
}

function shelfOf(lot: string, onHand: number | null, more: Partial<ShelfItem> = {}): ShelfItem {
  const counted = { countedOn: null, onOrder: null, expectedOn: null, expiry: null };
  return { sheet: "Shelf", row: 3, part: "SET", site: "S01", onHand, ...counted, lot, ...more };
}

/** Traces as short lines. */
function told(traces: readonly Trace[] | null): string[] {
  return (traces ?? []).map(({ kind, device, site, part, replaced, note }) =>
    [kind, device || site, part, replaced === null ? "" : isoText(replaced), note]
      .filter((text) => text !== "")
      .join(" | "),
  );
}

function trace(jobs: readonly Job[], shelf: readonly ShelfItem[] = [], lot = "L1"): string[] {
  return told(traceLot(programme(KITS, { jobs, shelf }).reading, lot));
}

/** The other devices, with lots of their own. */
const KNOWN = [fitted("A2", "2026-01-02", "L8")];

describe("a lot", () => {
  it("is found whatever the case and the spaces around, fitted now and before", () => {
    const jobs = [...KNOWN, fitted("A1", "2026-01-05", " l1 "), fitted("a1 ", "2026-04-05", "L2")];
    expect(trace(jobs)).toEqual(["fitted before | A1 | Electrode set | 2026-04-05"]);
    expect(trace(jobs, [], "l2 ")).toEqual(["fitted now | A1 | Electrode set"]);
  });

  it.each<[string, Partial<Job>, string]>([
    ["a part of a set", { complete: null }, "not marked as a complete set"],
    ["no day", { date: null }, "no date recorded"],
    ["a day to come", { date: day("2026-07-09") }, "after the report date"],
    ["no part", { part: "" }, "no known part"],
    ["another job", { job: "returned" }, "from a row of the job returned"],
    ["a device nobody knows", { device: "Z9" }, "not in the register"],
    ["a device that is retired", { device: "A4" }, "device retired"],
    ["a device that is retired and in use", { device: "A3" }, "retired but in use"],
  ])("counts as fitted in doubt: %s", (_, more, note) => {
    const traces = trace([...KNOWN, fitted("A1", "2026-05-05", "L1", more)]);
    const first = traces.filter((line) => line.startsWith("fitted now"));
    expect(first).toHaveLength(1);
    expect(first[0]).toContain(note);
  });

  it("is not gone by a part of a set, nor by another replacement on the same day", () => {
    const part = fitted("A1", "2026-05-05", "L2", { complete: false });
    const same = fitted("A1", "2026-01-05", "L3");
    const jobs = [...KNOWN, fitted("A1", "2026-01-05", "L1"), part, same];
    expect(trace(jobs)).toEqual(["fitted now | A1 | Electrode set"]);
  });

  it("is told once for rows of the same interval, and again where a later row contradicts", () => {
    const echo = checkOf("A1", "SET", day("2026-02-05"), { lot: "L1" });
    const jobs = [...KNOWN, fitted("A1", "2026-01-05", "L1"), echo];
    expect(trace(jobs)).toEqual(["fitted now | A1 | Electrode set"]);
    const late = checkOf("A1", "SET", day("2026-06-05"), { lot: "L1" });
    expect(trace([...jobs, fitted("A1", "2026-04-05", "L2"), late])).toEqual([
      "fitted now | A1 | Electrode set | from a row of the job inspected",
      "fitted before | A1 | Electrode set | 2026-04-05",
    ]);
  });

  it("may be where nobody wrote the lot: parts of the same kind, in use and on the shelf", () => {
    const jobs = [fitted("A1", "2026-05-05", ""), jobOf("A1", "CUSHION", "2026-05-05")];
    const shelf = [
      shelfOf("L1", 2),
      shelfOf("", 1, { site: "S02" }),
      shelfOf("", 0, { site: "S03" }),
      shelfOf("", null, { site: "S04" }),
      shelfOf("", 5, { part: "CUSHION" }),
    ];
    expect(trace(jobs, shelf)).toEqual([
      "on the shelf | S01 | Electrode set",
      "lot unknown | A1 | Electrode set | lot not recorded",
      "lot unknown | S02 | Electrode set",
      "lot unknown | A2 | Electrode set | no complete replacement logged",
      "lot unknown | S04 | Electrode set | not counted",
    ]);
  });

  it("that nobody has seen may be any wearing part's", () => {
    expect(trace([]).sort()).toEqual([
      "lot unknown | A1 | Ear cushion | no complete replacement logged",
      "lot unknown | A1 | Electrode set | no complete replacement logged",
      "lot unknown | A2 | Ear cushion | no complete replacement logged",
      "lot unknown | A2 | Electrode set | no complete replacement logged",
    ]);
  });

  it("is in use wherever the last complete replacement had it, and nowhere else", () => {
    const job = fc.tuple(fc.constantFrom("A1", "A2"), fc.nat(90), fc.constantFrom("L1", "L2"));
    fc.assert(
      fc.property(fc.uniqueArray(job, { selector: ([id, at]) => `${id} ${at}` }), (rows) => {
        const jobs = rows.map(([id, at, lot]) =>
          fitted(id, isoText((REPORT_DATE - at) as Day), lot),
        );
        const { reading } = programme(KITS, { jobs });
        const now = traceLot(reading, "L1").filter(({ kind }) => kind === "fitted now");
        const expected = ["A1", "A2"].filter((id) => {
          let latest: Job | null = null;
          for (const one of jobs) {
            if (one.device === id && (one.date ?? 0) > (latest?.date ?? 0)) latest = one;
          }
          return latest?.lot === "L1";
        });
        expect(now.map(({ device }) => device)).toEqual(expected);
      }),
    );
  });
});

describe("a device", () => {
  it("has its lots over time, and unknown ones", () => {
    const jobs = [
      fitted("A1", "2026-01-05", "L1"),
      fitted("A1", "2026-04-05", ""),
      jobOf("A1", "CALIBRATION", "2026-04-05", { job: "calibrated" }),
    ];
    const { reading } = programme(KITS, { jobs });
    expect(told(traceDevice(reading, " a1"))).toEqual([
      "lot unknown | A1 | Ear cushion | no complete replacement logged",
      "lot unknown | A1 | Electrode set | lot not recorded",
      "fitted before | A1 | Electrode set | 2026-04-05",
    ]);
    expect(told(traceDevice(reading, "A3"))).toEqual([]);
    expect(traceDevice(reading, "Z9")).toBeNull();
  });
});

describe("the Lot trace sheet", () => {
  it("holds texts as they are, formula characters and all, and stays when made again", () => {
    const lot = '=HYPERLINK("x")';
    const { snapshot, reading } = programme(KITS, { jobs: [fitted("A1", "2026-01-05", lot)] });
    const traced = { traces: traceLot(reading, lot), of: `lot ${lot}` };
    const [sheet] = lotChange(traced, REPORT_DATE).results ?? [];
    if (sheet === undefined) throw new Error("no sheet");
    const made = onPaper(snapshot, { summary: "", edits: resultEdits(snapshot, sheet) });
    const found = made.sheets.find(({ name }) => name === "Lot trace");
    if (found === undefined) throw new Error("no sheet");
    expect(found.values[headingRow(found) + 1]?.[4]).toBe(lot);
    expect(found.formulas.size).toBe(0);
    const notes = found.values.slice(1, 4).map(([note]) => note);
    expect(
      notes.some(
        (note) =>
          typeof note === "string" &&
          note.includes("whether an event must be reported are not judged"),
      ),
    ).toBe(true);
    expect(resultEdits(made, sheet)).toEqual([]);
  });
});

describe("sparespan lot", () => {
  const folder = mkdtempSync(join(tmpdir(), "sparespan-lot-"));
  const book = join(folder, "velloran-20260706-clean.xlsx");
  const july = ["--report-date", "2026-07-06"];
  afterAll(() => {
    rmSync(folder, { recursive: true, force: true });
  });

  it("traces a lot of the demonstration both ways, and writes the same twice", async () => {
    expect((await sparespan("demo", folder)).code).toBe(0);
    const device = await sparespan("lot", book, "--device", "VR-105", "--json", ...july);
    const { traces } = JSON.parse(device.out) as { traces: Record<string, string>[] };
    const now = traces.find(({ kind }) => kind === "fitted now");
    const lot = now?.["lot"] ?? "none";
    const back = await sparespan("lot", book, lot.toLowerCase(), "--json", ...july);
    expect({ code: back.code, err: back.err }).toEqual({ code: 0, err: "" });
    expect((JSON.parse(back.out) as { traces: unknown[] }).traces).toContainEqual(now);
    const out = join(folder, "traced.xlsx");
    expect((await sparespan("lot", book, lot, "-o", out, ...july)).code).toBe(0);
    const { snapshot } = openWorkbook(readFileSync(out));
    expect(sheetNamed(snapshot, "Lot trace")?.values[0]?.[0]).toBe("Lot trace");
    expect((await sparespan("lot", out, lot, "-n", "-o", book, ...july)).out).toContain(
      "nothing to change",
    );
  });

  it("refuses what it cannot trace", async () => {
    const said = async (...args: string[]): Promise<string> =>
      (await sparespan("lot", book, ...args, ...july)).err;
    expect(await said()).toBe("sparespan: give either a lot or a --device\n");
    expect(await said("L1", "--device", "A1")).toContain("either a lot or a --device");
    expect(await said("L1", "L2")).toBe('sparespan: one lot at a time, got "L2" too\n');
    expect(await said(" ")).toBe("sparespan: the lot must not be blank\n");
    expect(await said("--device", "Z9")).toBe(
      'sparespan: no device "Z9" in the register or the Job log\n',
    );
  });
});
