import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { sheetAt, sparespan } from "./session.ts";

const folder = mkdtempSync(join(tmpdir(), "sparespan-from-"));
const at = (name: string): string => join(folder, name);
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

function file(name: string, text: string): string {
  writeFileSync(at(name), text);
  return at(name);
}

const REGISTER = [
  "Device;Site;Electrode set replaced;Ear cushion replaced",
  "VR-01;North;2026-05-04;2026-05-04",
  "VR-02;North;05/06/2026;2026-04-01",
  "VR-03;South;2026-06-15;2026-06-15",
].join("\n");
const SESSIONS = "Device,2026-04,2026-05,2026-06\nVR-01,80,81,79\nVR-02,60,61,58\nVR-03,90,95,91\n";

describe("sparespan new --from a workbook with a row for each part", () => {
  const LONG = [
    "Unit;Ward;Component;Changed on;Bought on;Remarks",
    "U1;North;Electrode set;2026-05-04;2025-01-02;new clip",
    ";;Ear cushion;2026-06-01;2025-01-02;",
    "U2;South;Electrodes;2026-04-20;2025-01-02;",
    ";;Cushion;2026-03-02;2025-01-02;loose",
    ";;Cushion;2026-05-02;2025-01-02;",
    "U3;South;Electrode set;2026-06-15;2025-01-02;",
    ";;Charger;2026-06-15;2025-01-02;",
  ].join("\n");

  async function madeOf(name: string, text: string, ...more: readonly string[]) {
    const [rows, path] = [at(`${name}-rows.xlsx`), at(`${name}.xlsx`)];
    await sparespan("new", rows, "--from", file(`${name}.csv`, text));
    return { rows, path, ...(await sparespan("new", path, "--from", rows, ...more, ...DAY)) };
  }
  const DAY = ["--report-date", "2026-07-06"];

  it("has one for each device beside it, the earlier of two dates, and tells what is not taken", async () => {
    const { rows, path, out } = await madeOf("blocks", LONG);
    expect(out).toContain("sheet Equipment with 3 devices, made from the rows of blocks.");
    expect(out).toContain("U2: Ear cushion is in several rows; the earliest date was taken.");
    expect(out).toContain('Not taken, because no part on Parts has this name: "Charger".');
    const { values } = sheetAt(path, "Equipment");
    const [headings = []] = values.filter((row) => row[0] === "Device");
    const column = (heading: string): number => headings.indexOf(heading);
    const places = ["Device", "Site", "Ear cushion: last replaced", "Note"].map(column);
    expect(values.slice(3).map((row) => places.map((place) => row[place] ?? null))).toEqual([
      ["U1", "North", 46174, "new clip"],
      ["U2", "South", 46083, "loose"],
      ["U3", "South", null, null],
    ]);
    // What was there stays, cell for cell.
    expect(sheetAt(path, "blocks").values).toEqual(sheetAt(rows, "blocks").values);
    const today = await sparespan("today", path, "--json", ...DAY);
    // No date for one part, and "loose" in a note that says of which device and not of which part.
    expect(JSON.parse(today.out)).toMatchObject({ devices: 3, toCheck: 3 });
  });

  it.each([
    ["words", ["Teil", "Ohrpolster links", "Ohrpolster re.", "Ohrpolster"]],
    ["column", ["Part;Side", "Ear cushion;L", "Ear cushion;R", "Ear cushion;"]],
  ])("keeps the sides of a part apart where rows name them in a %s", async (name, said) => {
    const [head, left, right, both] = said;
    const set = head?.includes(";") === true ? "Electrode set;" : "Elektrodensatz";
    const text = [
      `Device;Site;${head};Last replaced`,
      `G1;North;${set};2026-03-05`,
      `;;${left};2026-02-05`,
      `;;${right};2025-12-04`,
      `G2;North;${set};2026-05-07`,
      `;;${both};2026-05-06`,
      `G3;North;${set};2026-05-07`,
      `;;${left};2026-05-06`,
    ].join("\n");
    const { rows, path, out } = await madeOf(`sides-${name}`, text);
    expect(out).not.toContain("several rows");
    const { values } = sheetAt(path, "Equipment");
    const [headings = []] = values.filter((row) => row[0] === "Device");
    const places = ["left", "right"].map((side) =>
      headings.indexOf(`Ear cushion, ${side}: last replaced`),
    );
    // One row for the cushion is for both of its sides; a side without a row has no date.
    expect(values.slice(3).map((row) => places.map((place) => row[place] ?? null))).toEqual([
      [46058, 45995],
      [46148, 46148],
      [46148, null],
    ]);
    const today = await sparespan("today", path, "--json", ...DAY);
    // Months from 2025-12-04 (six) and 2026-03-05 (three) had ended before 2026-07-06.
    expect(JSON.parse(today.out)).toMatchObject({ overdue: 2, toCheck: 1 });
    // Nobody is told to take the one column of dates for one of the parts.
    const checked = await sparespan("check", rows, ...DAY);
    expect(checked.out).toContain("Each row is for one part of a device");
    // A block names its device once.
    expect(checked.out).not.toContain("Device is missing");
    expect(checked.out).not.toMatch(/--match|does not say which part/);
  });

  it("loses no device, and lets none leave by a word of one row alone", async () => {
    const { path, out } = await madeOf(
      "leaving",
      [
        "Unit;Ward;Component;Changed on;Status",
        "U1;North;Electrode set;2026-05-04;",
        "U1;North;Ear cushion;2026-05-04;Retired",
        "U2;North;Electrode set;2026-05-04;",
        "U2;North;Ear cushion;2026-05-04;",
        "U3;North;;2026-05-04;",
      ].join("\n"),
    );
    expect(out).toContain("sheet Equipment with 3 devices");
    expect(out).toContain('U1: its rows disagree on Status, blank and "Retired"; it stays blank.');
    const today = await sparespan("today", path, "--json", ...DAY);
    expect(JSON.parse(today.out)).toMatchObject({ devices: 3 });
  });

  it("asks which dates are meant, and refuses a workbook whose rows are devices", async () => {
    const vague = LONG.replace("Changed on", "Date");
    const asked = await madeOf("vague", vague);
    expect([asked.code, asked.err]).toEqual([2, expect.stringContaining("give --dates HEADING")]);
    const told = await madeOf("told", vague, "--dates", "date");
    expect(told.out).toContain("sheet Equipment with 3 devices");
    const wrong = await madeOf("wrong", vague, "--dates", "Day");
    expect(wrong.err).toContain("--dates must be one of Unit");
    const undated = await madeOf("undated", vague, "--dates", "Component");
    expect([undated.code, undated.err]).toEqual([
      2,
      expect.stringContaining('--dates must name a column that holds dates, got "Component"'),
    ]);
    const devices = await madeOf("devices", REGISTER);
    expect([devices.code, devices.err]).toEqual([2, expect.stringContaining("a workbook already")]);
  });

  it.each([["--convert"], ["--separator", "semicolon"], ["--encoding", "utf-8"]])(
    "refuses %s, which says how a list is read",
    async (...more) => {
      const { code, err } = await madeOf("read", LONG, ...more);
      expect([code, err]).toEqual([2, expect.stringContaining(`${more[0]} says how a list`)]);
    },
  );

  it("does not offer the sheet it was made from as a log", async () => {
    const rows = [
      "Unit;Ward;Component;Changed on;Work",
      "U1;North;Electrode set;2026-05-04;replaced",
      "U1;North;Ear cushion;2026-06-01;replaced",
      "U2;South;Electrode set;2026-04-20;changed",
    ];
    const { path } = await madeOf("no-log", rows.join("\n"));
    const checked = await sparespan("check", path, "--json", ...DAY);
    const { problems } = JSON.parse(checked.out) as { problems: { kind: string; sheet: string }[] };
    // All of it is on the new sheet, so nothing is said to be in no list.
    const others = problems.filter(({ sheet }) => sheet !== "Equipment");
    expect(others).toEqual([]);
  });
});

describe("sparespan new --from a workbook with a row for each replacement", () => {
  const DAY = ["--report-date", "2026-07-06"];
  const EVENTS = [
    "Fecha;Hospital;Equipo;Pieza cambiada;Quién;Motivo;Estado",
    "2026-01-12;Centro;E-01;electrodos;MR;programado;hecho",
    "2026-01-13;Centro;E-02;electrodos;MR;programado;",
    "2026-04-14;Centro;E-01;electrodos;MR;programado;",
    "2026-05-18;Centro;E-02;electrodos;MR;programado;anulado",
    "2026-02-02;Costa;E-03;almohadilla;MR;programado;",
  ].join("\n");

  async function madeOf(name: string, text: string, ...more: readonly string[]) {
    const [rows, path] = [at(`${name}-rows.xlsx`), at(`${name}.xlsx`)];
    await sparespan("new", rows, "--from", file(`${name}.csv`, text));
    return { rows, path, ...(await sparespan("new", path, "--from", rows, ...more, ...DAY)) };
  }
  const dueOf = async (path: string): Promise<string[]> => {
    const { out } = await sparespan("today", path, "--json", ...DAY);
    const { items } = JSON.parse(out) as {
      items: { device: string; part: string; state: string; due: string | null }[];
    };
    return items.map(({ device, part, state, due }) => `${device} ${part} ${state} ${due}`);
  };

  it("names the way in which the latest counts, and takes it only where that was said", async () => {
    const asked = await madeOf("asked", EVENTS);
    expect([asked.code, asked.err]).toEqual([2, expect.stringContaining("--log")]);
    expect(existsSync(asked.path)).toBe(false);
    const dated = await madeOf("dated", EVENTS, "--dates", "Fecha");
    expect(dated.out).toContain(
      "E-01: Electrode set is in several rows; the earliest date was taken.",
    );
    expect(dated.out).toContain("give --log instead of --dates");
    const check = await sparespan("check", asked.rows, ...DAY);
    expect(check.out).toContain("--log");
  });

  it("reads the rows as a log of its people: what is said to be otherwise does not count", async () => {
    const { path, out } = await madeOf("log", EVENTS, "--log");
    expect(out).toContain(
      "log is read as your log, in which the latest replacement counts: 4 lines understood, 1 not.",
    );
    const due = await dueOf(path);
    // E-01 on 14 April, E-02 on 13 January, since 18 May was cancelled.
    expect(due).toContain("E-02 Electrode set Overdue 2026-04-13");
    expect(due).toContain("E-01 Electrode set Due soon 2026-07-14");
    expect(due.filter((one) => one.startsWith("E-03 Ear"))).toEqual([]);
    const read = await sparespan("check", path, ...DAY);
    expect(read.out).toContain('"electrodos; anulado" (1 line) may be "SET replaced" or not');
  });

  it.each([
    ["Datum;Klinik;Gerät;Getauschtes Teil", "Elektroden", "Ohrpolster"],
    ["Date;Site;Appareil;Pièce changée", "électrodes", "coussinet"],
    ["Data;Sede;Apparecchio;Pezzo sostituito", "elettrodi", "cuscinetto"],
    ["Data zmiany;Oddział;Aparat;Część wymieniona", "elektrody", "poduszka"],
    ["Datum vervangen;Locatie;Apparaat;Onderdeel", "elektroden", "oorkussen"],
    ["Trocado em;Local;Aparelho;Peça", "eletrodos", "almofada"],
  ])("in other languages: %s", async (headings, set, cushion) => {
    const rows = [
      headings,
      `2026-01-12;A;K-1;${set}`,
      `2026-06-12;A;K-1;${set}`,
      `2026-01-12;A;K-2;${set}`,
      `2026-06-12;A;K-2;${cushion}`,
    ];
    const name = `lang-${headings.length}-${set.length}`;
    const { path, out } = await madeOf(name, rows.join("\n"), "--log");
    expect(out).toContain("4 lines understood, 0 not");
    const due = await dueOf(path);
    expect(due.filter((one) => !one.includes("Check row"))).toEqual([
      "K-2 Electrode set Overdue 2026-04-10",
    ]);
  });

  it("refuses rows that do not name their device, and what would be two ways at once", async () => {
    const both = await madeOf("both", EVENTS, "--log", "--dates", "Fecha");
    expect([both.code, both.err]).toEqual([2, expect.stringContaining("--dates")]);
    const block = EVENTS.replace(
      "Centro;E-02;electrodos;MR;programado;\n",
      "Centro;;electrodos;MR;;\n",
    );
    const blocks = await madeOf("block", block, "--log");
    expect([blocks.code, blocks.err]).toEqual([2, expect.stringContaining("row 3")]);
    const list = await sparespan("new", at("l.xlsx"), "--from", file("l.csv", REGISTER), "--log");
    expect([list.code, list.err]).toEqual([2, expect.stringContaining("--log")]);
  });
});

describe("sparespan new --from", () => {
  it("makes a workbook of two lists, which every job then reads", async () => {
    const lists = [
      "--from",
      file("register.csv", REGISTER),
      "--from",
      file("sessions.csv", SESSIONS),
    ];
    const book = at("book.xlsx");
    const made = await sparespan("new", book, ...lists);
    // One date is text that may be read two ways: told, and never taken.
    expect({ code: made.code, err: made.err }).toEqual({
      code: 1,
      err: `1 fault in the rows: npx sparespan check "${book}"\n`,
    });
    expect(made.out).toContain("Sheet register from register.csv: 4 lines of 4 cells");
    expect(made.out).toContain("Register: register, headings in row 1; 3 devices");
    expect((await sparespan("check", book)).out).toContain("It may be 2026-06-05 or 2026-05-06");
    const columns = await sparespan("columns", book, "--in-place");
    expect(columns.code, columns.err).toBe(1);
    const { values } = sheetAt(book, "register");
    expect(values[0]).toContain("Uses a month");
    const row = values[2] ?? [];
    const state = (values[0] ?? []).indexOf("Electrode set: state");
    expect(row[state]).toBe("Check row");
  });

  it("stops at columns that look like patients, and writes nothing", async () => {
    const list = file(
      "patients.csv",
      "Device;Patient name;Electrode set replaced\nV1;x;2026-01-05\n",
    );
    const said = await sparespan("new", at("p.xlsx"), "--from", list);
    expect(said.code).toBe(2);
    expect(said.err).toContain("looks like patient data");
    expect(existsSync(at("p.xlsx"))).toBe(false);
  });

  it.each([
    [["--from", "a.xlsx"], /a\.xlsx does not exist$/],
    [["--from", "a.pdf"], /a\.pdf must be a list \(\.csv, .*\) or a workbook \(\.ods/],
    [["--from", "a.csv"], /a\.csv does not exist$/],
    [["--from", "a.csv", "--convert"], /a\.csv needs no --convert: it is a list$/],
    [
      ["--from", "a.ods"],
      /give --convert to have LibreOffice read it, or open .*a\.ods .* save it as/,
    ],
    [["--from", "a.ods", "--from", "b.csv"], /give one --from only$/],
    [["--separator", "comma"], /give --from$/],
    [["--from", "a.csv", "--encoding", "klingon"], /--encoding must be the name of an encoding/],
  ])("%j is answered with one sentence", async (args, sentence) => {
    const placed = args.map((word) => (word.includes(".") ? at(word) : word));
    const { code, out, err } = await sparespan("new", at("none.xlsx"), ...placed);
    expect([code, out]).toEqual([2, ""]);
    expect(err.trim()).toMatch(sentence);
    expect(existsSync(at("none.xlsx"))).toBe(false);
  });

  it("never writes over a file, and nothing at all with --dry-run", async () => {
    const list = file("r2.csv", REGISTER);
    writeFileSync(at("mine.xlsx"), "mine");
    const over = await sparespan("new", at("mine.xlsx"), "--from", list);
    expect([over.code, readFileSync(at("mine.xlsx"), "utf8")]).toEqual([2, "mine"]);
    const dry = await sparespan("new", at("dry.xlsx"), "--from", list, "-n", "--json");
    expect(dry.code).toBe(0);
    expect((JSON.parse(dry.out) as { edits: string[] }).edits[0]).toContain("Sheet r2 from r2.csv");
    expect(existsSync(at("dry.xlsx"))).toBe(false);
  });
});
