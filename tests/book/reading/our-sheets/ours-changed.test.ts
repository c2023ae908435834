import { describe, expect, it } from "vitest";
import { todayOf } from "../../../../src/book/day/today.ts";
import { readWorkbook } from "../../../../src/book/reading/workbook.ts";
import { doubtsSay } from "../../../../src/book/records/doubts.ts";
import type { Problem } from "../../../../src/book/records/records.ts";
import { judgedShelf } from "../../../../src/book/records/shelf.ts";
import { HOLIDAYS } from "../../../../src/book/sheets/holidays.ts";
import { JOB_LOG } from "../../../../src/book/sheets/job-log.ts";
import type { Layout } from "../../../../src/book/sheets/layout.ts";
import { PARTS, partRows } from "../../../../src/book/sheets/parts.ts";
import { SHELF } from "../../../../src/book/sheets/shelf.ts";
import { SITES } from "../../../../src/book/sheets/sites.ts";
import { DEFAULT_PARTS } from "../../../../src/book/records/parts.ts";
import { cellKey, type Sheet } from "../../../../src/book/workbook/snapshot.ts";
import { bookOf, on, REPORT_DATE, sheetOf, type Typed } from "../../../scenes/scene.ts";

const JUNE = on("2026-06-01");
const KIT = sheetOf("Kit", [
  ["Device", "Site", "Electrode set replaced", "Ear cushion replaced", "Calibrated"],
  ["HS-01", "Alder", JUNE, JUNE, JUNE],
  ["HS-02", "Alder", JUNE, JUNE, JUNE],
]);
/** The heading row of a sheet of ours, and its first row below. */
const HEAD = 2;
const FIRST = 3;

interface Changed {
  /** Headings by what they were renamed to; null is a blank. */
  readonly renamed?: Readonly<Record<string, string | null>>;
  /** What stands in columns beside ours, heading first. */
  readonly beside?: readonly Typed[];
  readonly more?: Partial<Sheet>;
  readonly name?: string;
}

function ours(layout: Layout, rows: readonly Typed[][], changed: Changed = {}): Sheet {
  const { renamed = {}, beside = [], more = {}, name = layout.name } = changed;
  const headings = layout.columns.map(({ heading }) =>
    heading in renamed ? (renamed[heading] ?? null) : heading,
  );
  const wide = rows.map((row, at) => [
    ...[...row, ...headings.slice(row.length).map(() => null)],
    beside[at + 1] ?? null,
  ]);
  return sheetOf(name, [[layout.title], [], [...headings, beside[0] ?? null], ...wide], more);
}

function read(...sheets: readonly Sheet[]) {
  const book = bookOf([KIT, ...sheets]);
  const reading = readWorkbook(book, REPORT_DATE);
  const { items: due } = todayOf(book, reading);
  const out = due.filter(({ state }) => state === "Overdue");
  return {
    reading,
    out: out.map(({ device, unit }) => `${device} ${unit}`),
    told: reading.problems.map(({ kind, sheet }: Problem) => `${kind} ${sheet}`),
    before: doubtsSay(reading).join(" "),
  };
}

const CRACK: Typed[] = [on("2026-06-22"), "HS-01", "SET", "inspected", "crack"];
const done = (...more: Typed[]): Typed[] => [
  ...[JUNE, "HS-01", "SET", "replaced", null, "yes", ...more],
];

/** Changes that people make to the sheets the program wrote (common practice, no source). */
describe("a heading of our sheets that was changed", () => {
  it.each(["Findings", "Result", "Befund", "What was found", "Finding (see list)", null])(
    "forgets no finding: %s",
    (heading) => {
      const log = ours(JOB_LOG, [CRACK], { renamed: { Finding: heading } });
      const { out, told, before } = read(log);
      expect(out).toEqual(["HS-01 SET"]);
      expect(told).toContain("no column Job log");
      expect(before).toContain("Job log (Finding)");
    },
  );

  it.each([
    ["Device", "Gerät"],
    ["Part", "Teil"],
    ["Job", null],
  ])("forgets no damage by the heading of %s: %s", (heading, name) => {
    const log = ours(JOB_LOG, [done(), CRACK], { renamed: { [heading]: name } });
    const { out, before } = read(log);
    expect(out).toEqual(["HS-01 SET"]);
    expect(before).toContain(`Job log (${heading})`);
  });

  it.each([
    [
      "translated",
      ["Datum", "Gerät", "Teil", "Arbeit", "Befund", "Komplett", "Los", "Von", "Notiz"],
    ],
    ["blank", JOB_LOG.columns.map(() => null)],
  ])("forgets no damage where all of them are %s", (_, names) => {
    const headings = JOB_LOG.columns.map(({ heading }) => heading);
    const renamed = Object.fromEntries(headings.map((one, at) => [one, names[at] ?? null]));
    const area = { firstRow: HEAD, lastRow: FIRST + 1, firstColumn: 0, lastColumn: 8 };
    const tables = [{ name: JOB_LOG.table, area, headings, totalsRow: false }];
    const log = ours(JOB_LOG, [done(), CRACK], { renamed, more: { tables } });
    expect(read(log).out).toEqual(["HS-01 SET"]);
  });

  it.each(["Best before", "Use by", null])("lets nothing expired count: %s", (heading) => {
    const row = ["SET", "Alder", 4, on("2026-06-20"), null, null, "L1", on("2026-05-31")];
    const shelf = ours(SHELF, [row], { renamed: { Expiry: heading } });
    const { reading, told } = read(shelf);
    expect(judgedShelf(reading).map(({ onHand, expired }) => [onHand, expired])).toEqual([[0, 4]]);
    expect(told).toContain("no column Shelf");
  });

  it("buys no less", () => {
    const rows = partRows(DEFAULT_PARTS).map((row) => [...row]);
    const at = PARTS.columns.findIndex(({ heading }) => heading === "Units a replacement");
    for (const row of rows) row[at] = 3;
    const { reading, told } = read(ours(PARTS, rows, { renamed: { "Units a replacement": null } }));
    expect(reading.ours.parts.map(({ supply }) => supply.perReplacement)).toEqual([3, 3, 3]);
    expect(told.filter((one) => one === "no column Parts")).toHaveLength(1);
  });

  it("keeps the holidays that formulas read", () => {
    const { reading, told } = read(
      ours(HOLIDAYS, [[on("2026-08-31"), "Summer"]], { renamed: { Date: "Day" } }),
    );
    expect(reading.ours.holidays).toHaveLength(1);
    expect(told).toContain("no column Holidays");
  });

  it("says nothing of a column of words that is gone with all it held", () => {
    const sheet = ours(JOB_LOG, [done()]);
    const without = sheet.values.map((row) => row.slice(0, 7));
    expect(read({ ...sheet, values: without }).told).toEqual([]);
  });
});

describe("what people put beside our rows", () => {
  it.each(["crack in lead", "electrodes rusty", "do not use", "needs replacing"])(
    "is a finding where it condemns: %s",
    (note) => {
      const row = [...CRACK.slice(0, 4), "clean", null, null, "KB", note];
      const { out, before } = read(ours(JOB_LOG, [row]));
      expect(out).toEqual(["HS-01 SET"]);
      expect(before).toContain("Job log!E4 (Finding)");
      const [date, ...rest] = done();
      const later = read(ours(JOB_LOG, [row, [on("2026-06-23"), ...rest]]));
      expect([date, later.out]).toEqual([JUNE, []]);
    },
  );

  it.each(["checked by the night shift", "wiped, fine", "spare from the shelf"])(
    "is nothing else: %s",
    (note) => {
      const row = [...CRACK.slice(0, 4), "clean", null, null, "KB", note];
      expect(read(ours(JOB_LOG, [row])).told).toEqual([]);
    },
  );

  it.each(["not done", "device not on ward, not inspected", "nicht geprüft", "skipped"])(
    "is no inspection where it was not made: %s",
    (note) => {
      const row = [...CRACK.slice(0, 4), "clean", null, null, "KB", note];
      const { reading, out, before } = read(ours(JOB_LOG, [row]));
      expect([out, reading.ours.jobs[0]?.date]).toEqual([[], null]);
      expect(before).toContain("Job log!A4 (Date)");
    },
  );

  it("counts a part that was withdrawn as out of use", () => {
    const { out } = read(ours(JOB_LOG, [[on("2026-06-22"), "HS-01", "SET", "withdrawn"]]));
    expect(out).toEqual(["HS-01 SET"]);
  });

  it("takes back a replacement, by a note, a comment or a column of one's own", () => {
    const key = cellKey(FIRST, 3);
    const ways = [
      ours(JOB_LOG, [done("L1", "KB", "not done, wrong entry")]),
      ours(JOB_LOG, [done()], {
        more: { comments: new Map([[key, "was not done, wrong entry"]]) },
      }),
      ours(JOB_LOG, [done()], { beside: ["Check", "wrong entry"] }),
    ];
    for (const log of ways) {
      const { reading, before } = read(log);
      expect(reading.ours.jobs[0]?.date).toBeNull();
      expect(before).toContain("Job log!A4 (Date)");
    }
  });

  it.each([
    ...["not really, no stock", "planned", "left only", "used set from A-03", "old one put back"],
    ...["was on A-03", "postponed", "only cleaned", "not changed", "wrong device", "partial", "?"],
    ...["nur links", "nicht gewechselt", "pas fait", "no hecho", "não feito", "non fatto"],
    ...["niet gedaan", "nie wykonano", "verschoben", "swapped with A-05"],
  ])("takes back a replacement that was none, or less than one: %s", (note) => {
    const { reading, told } = read(ours(JOB_LOG, [done("L1", "KB", note)]));
    expect(reading.ours.jobs[0]?.date).toBeNull();
    expect(told).toContain("remark Job log");
    // The register has the same date.
    expect(told).toContain("date disagrees Kit");
  });

  it.each(["ordered 2 more", "new set from box 3", "checked ok", "was due", "next due in July"])(
    "takes back no replacement by what is noted besides: %s",
    (note) => {
      const { reading, told } = read(ours(JOB_LOG, [done("L1", "KB", note)]));
      expect(reading.ours.jobs[0]?.date).not.toBeNull();
      expect(told).toEqual([]);
    },
  );

  it.each(["the old set had a crack", "was overdue", "old set expired", "do not use the old ones"])(
    "takes back no replacement by its reason: %s",
    (note) => {
      const { reading, told } = read(ours(JOB_LOG, [done("L1", "KB", note)]));
      expect(reading.ours.jobs[0]?.date).not.toBeNull();
      expect(told).toEqual([]);
    },
  );

  it.each(["damaged", "expired batch", "do not use", "recalled", "abgelaufen", "à remplacer"])(
    "takes a row of the Shelf out of the stock where it condemns it: %s",
    (text) => {
      const row = ["SET", "Alder", 4, JUNE, null, null, "L1", null];
      const { reading, told } = read(ours(SHELF, [row], { beside: ["Remark", text] }));
      expect(judgedShelf(reading).map(({ onHand }) => onHand)).toEqual([0]);
      expect(judgedShelf(reading)[0]?.doubts.map(({ cause }) => cause)).toEqual([
        `4 on hand at Alder, beside which stands "${text}", not counted`,
      ]);
      expect(told).toContain("remark Shelf");
      const quiet = read(ours(SHELF, [row], { beside: ["Remark", "top drawer"] }));
      expect(judgedShelf(quiet.reading)[0]?.onHand).toBe(4);
      const comments = new Map([[cellKey(FIRST, 2), text]]);
      const commented = read(ours(SHELF, [row], { more: { comments } }));
      expect(judgedShelf(commented.reading)[0]?.onHand).toBe(0);
    },
  );

  it("is told on the Shelf and on Sites", () => {
    const row = ["SET", "Alder", 4, on("2026-06-20")];
    const comments = new Map([[cellKey(FIRST, 2), "wrong type, cannot be used"]]);
    expect(read(ours(SHELF, [row], { beside: ["Remark", "recalled"] })).told).toEqual([
      "column not read Shelf",
      "remark Shelf",
    ]);
    expect(read(ours(SHELF, [row], { more: { comments } })).told).toEqual([
      "unweighed comment Shelf",
    ]);
    const struck = new Set([0, 1, 2, 3].map((column) => cellKey(FIRST, column)));
    const { reading, told } = read(ours(SHELF, [row], { more: { struck } }));
    expect(judgedShelf(reading)[0]?.onHand).toBe(0);
    expect(told).toContain("struck out Shelf");
    const line = { struck: new Set([cellKey(FIRST, 3)]) };
    const wipes = read(ours(SITES, [["Alder", null, null, "alcohol-free"]], { more: line }));
    expect(wipes.reading.ours.sites[0]?.wipes).toBe("");
  });
});

describe("a second sheet or table laid out as one of ours", () => {
  it.each(["Job log 2026", "Job log (2)", "Jobs", "Log July"])("is named: %s", (name) => {
    const { before } = read(ours(JOB_LOG, [done()]), ours(JOB_LOG, [CRACK], { name }));
    expect(before).toContain(name);
  });

  it("is named beside the first", () => {
    const sheet = ours(JOB_LOG, [done()]);
    const values = sheet.values.map((row, at) =>
      at === HEAD ? [...row, ...row] : at === FIRST ? [...row, ...row] : row,
    );
    expect(read({ ...sheet, values }).before).toContain("a second time");
  });

  it("is no matter while it is empty", () => {
    expect(read(ours(JOB_LOG, [done()]), ours(JOB_LOG, [], { name: "Job log 2" })).told).toEqual(
      [],
    );
  });
});

describe("a finding that takes back its own word of damage", () => {
  it.each(["no crack", "clean (crack closed)", "crack - replaced"])("is told: %s", (finding) => {
    const { out, told } = read(ours(JOB_LOG, [[...CRACK.slice(0, 4), finding]]));
    expect(out).toEqual(["HS-01 SET"]);
    expect(told).toEqual(["unknown finding Job log"]);
  });

  it.each(["crack", "hairline crack"])("is not where it does not: %s", (finding) => {
    expect(read(ours(JOB_LOG, [[...CRACK.slice(0, 4), finding]])).told).toEqual([]);
  });
});
