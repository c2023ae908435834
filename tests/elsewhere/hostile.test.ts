import { spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { basename, extname, join } from "node:path";
import { strFromU8, unzipSync } from "fflate";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { DEMO_SEED, demoBook } from "../../src/book/demo/workbook.ts";
import { textOf } from "../../src/book/workbook/cells.ts";
import type { Snapshot } from "../../src/book/workbook/snapshot.ts";
import { shown } from "../../src/cli/shown.ts";
import { newWorkbook, openWorkbook } from "../../src/xlsx/index.ts";
import { HOSTILE, hostileBook } from "./hostile.ts";
import { faultsOf, readCsv, readXml } from "../book/share/order-texts.ts";
import { partsOf, type Said, sparespan } from "../cli/session.ts";

/**
 * The demonstration with hostile texts and the demonstration itself go through every door of the command
 * line: what comes out must hold the same formulas, lines and entries, whatever the texts say.
 */
const folder = mkdtempSync(join(tmpdir(), "hostile-"));

/** One programme in a folder of its own. */
interface Programme {
  readonly folder: string;
  readonly book: string;
  readonly live: string;
  readonly snapshot: Snapshot;
}

function programme(name: string, bytes: Uint8Array): Programme {
  const own = join(folder, name);
  mkdirSync(join(own, "calendars"), { recursive: true });
  const book = join(own, "book.xlsx");
  writeFileSync(book, bytes);
  return {
    folder: own,
    book,
    live: join(own, "live.xlsx"),
    snapshot: openWorkbook(bytes).snapshot,
  };
}

const tame = programme("tame", newWorkbook(demoBook(DEMO_SEED, false).plan));
const TURNS = [0, 5, 8, 16, 24, 32];
const hostiles = TURNS.map((turn) => programme(`t${turn}`, newWorkbook(hostileBook(turn))));
const [hostile = tame] = hostiles;

/** A cell of the register as its text, outer spaces aside. */
function cellOf({ snapshot }: Programme, row: number, column: number): string {
  return textOf(snapshot.sheets[0]?.values[row]?.[column] ?? null);
}

/** A note may hold no address of the web. */
const NOTE = HOSTILE.filter((text) => !text.includes("//")).join("/");

type Words = (programme: Programme) => readonly string[];

const out = (name: string): Words => {
  return (one) => ["-o", join(one.folder, name), "--force"];
};

/** Every command with every form it writes; the third word is where it goes. */
const DOORS: readonly (readonly [string, Words])[] = [
  ["today", ({ book }) => [book]],
  ["columns", (one) => [one.book, ...out("columns.xlsx")(one)]],
  ["columns", (one) => [one.book, "--as=live", ...out("live.xlsx")(one)]],
  ["columns", (one) => [one.book, "--as=values", ...out("values.xlsx")(one)]],
  ["columns", ({ book }) => [book, "--dry-run"]],
  ["rounds", (one) => [one.book, ...out("rounds.xlsx")(one)]],
  ["calendar", (one) => [one.book, ...out("due.ics")(one)]],
  ["calendar", (one) => [one.book, ...out("calendars")(one)]],
  ["ahead", (one) => [one.book, ...out("ahead.xlsx")(one)]],
  ["budget", (one) => [one.book, ...out("budget.xlsx")(one)]],
  ["order", (one) => [one.book, ...out("orders.xlsx")(one)]],
  ["order", (one) => [one.book, "--pool", ...out("pooled.xlsx")(one)]],
  ["evidence", (one) => [one.book, ...out("evidence.xlsx")(one)]],
  ["lot", (one) => [one.book, "--device", cellOf(one, 3, 0), ...out("lot.xlsx")(one)]],
  [
    "log",
    (one) => [
      ...[one.book, "--device", cellOf(one, 3, 0), "--part=SET", "--job=replaced", "--complete"],
      ...["--lot", HOSTILE[0] ?? "", "--by", HOSTILE[1] ?? "", `--note=${NOTE}`],
      ...out("log.xlsx")(one),
    ],
  ],
  ...[".xlsx", ".csv", ".xml"].map((ending): readonly [string, Words] => [
    "share",
    (one) => [
      "order",
      one.book,
      "--buyer",
      `${HOSTILE[0] ?? ""} buyer`,
      ...out(`purchase${ending}`)(one),
    ],
  ]),
  ["share", (one) => ["order", one.book, "--separator=semicolon", ...out("semicolons.csv")(one)]],
  ["share", (one) => ["copy", one.live, ...out("copy.xlsx")(one)]],
  ["share", (one) => ["copy", one.live, "--values", ...out("fixed.xlsx")(one)]],
];

const JULY = "--report-date=2026-07-06";

/** A book that says what else holds after each run; written once for all tests. */
const said = new Map<string, { readonly plain: Said; readonly json: Said }>();

beforeAll(async () => {
  for (const one of [tame, ...hostiles]) {
    // The other turns differ in names alone: sheets, files and entries are named by sites and devices.
    const doors = one === tame || one === hostile ? DOORS : DOORS.filter(([name]) => named(name));
    for (const [name, words] of doors) {
      const asked = [name, ...words(one), JULY];
      const plain = await sparespan(...asked);
      const json = one === hostile ? await sparespan(...asked, "--json") : plain;
      said.set([one.folder, name, ...words(one)].join(" "), { plain, json });
    }
  }
});

const named = (name: string): boolean => ["rounds", "calendar", "ahead"].includes(name);

afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

function files(one: Programme, ending: string): string[] {
  const names = readdirSync(one.folder, { recursive: true, encoding: "utf8" });
  return names.filter((name) => extname(name) === ending).sort();
}

/** Control characters but line ends, signs that turn the direction, halves of characters. */
const UNFIT = /(?!\n)\p{Cc}|[\u2028\u2029\u202a-\u202e\u2066-\u2069]|\p{Cs}/u;
const lineCount = (text: string): number => text.split("\n").length;

describe("what the command line says of hostile texts", () => {
  it("is fit for a terminal, and the same number of lines", () => {
    const tells = [...said].filter(([key]) => key.startsWith(hostile.folder));
    expect(tells).toHaveLength(DOORS.length);
    for (const [key, { plain, json }] of said) {
      const { code, out: told, err } = plain;
      expect([key, code === 2 ? err : "", json.code]).toEqual([key, "", code]);
      for (const text of [told, err, json.out, json.err]) expect(UNFIT.exec(text)).toBeNull();
      const usual = said.get(key.replaceAll(/\/t\d+\b/g, "/tame"))?.plain;
      if (usual === undefined || /--device/.test(key)) continue;
      expect([key, lineCount(told)]).toEqual([key, lineCount(usual.out)]);
    }
  });

  it("is the cells' own texts for machines", () => {
    const { json } = said.get([hostile.folder, "today", hostile.book].join(" ")) ?? {};
    const { items } = JSON.parse(json?.out ?? "") as { items: { device: string; site: string }[] };
    const rows = hostile.snapshot.sheets[0]?.values ?? [];
    const known = new Set(rows.flatMap((row) => row.map(textOf)));
    expect(items.length).toBeGreaterThan(3);
    for (const { device, site } of items) {
      expect([device, known.has(device), known.has(site)]).toEqual([device, true, true]);
    }
  });

  it("is fit for a terminal when a file, a word or a cell of calc is refused", async () => {
    const bare = join(folder, "bare.xlsx");
    expect((await sparespan("new", bare)).code).toBe(0);
    // No word of a command line can hold what ends it.
    for (const text of HOSTILE.map((one) => one.replaceAll("\0", "\u0001"))) {
      const words = [
        ["check", join(folder, `${text}.xlsx`)],
        ["today", bare, "--device", text],
        ["lot", bare, `--device=${text}`],
        ["rounds", bare, `--site=${text}`],
        ["log", bare, `--device=${text}`, "--part=SET", "--job=replaced", "-n"],
        ["check", bare, `--match=device=${text}`],
        [text],
        [`--${text}`],
        ["calc", text],
        ["calc", "NEXTDUE", `${text}x`, "3"],
        ["calc", "LABELPART", JSON.stringify([`${text}(01)`]), "lot"],
      ];
      for (const asked of words) {
        const { code, out: told, err } = await sparespan(...asked);
        expect([asked, UNFIT.exec(told), UNFIT.exec(err)]).toEqual([asked, null, null]);
        expect(code).not.toBe(0);
      }
    }
  });

  it("loses nothing: JSON reads what stands for a control character as that character", () => {
    for (const text of HOSTILE) {
      expect(JSON.parse(shown(JSON.stringify(text)))).toBe(text);
      expect(UNFIT.exec(shown(text).replaceAll("\t", ""))).toBeNull();
    }
    expect(shown("Zoë – 日本 𝄞 ا\u200d")).toBe("Zoë – 日本 𝄞 ا\u200d");
  });
});

/** What of a workbook could run: formulas, links, other programs, connections. */
function active(parts: ReadonlyMap<string, string>): Record<string, number> {
  const found: Record<string, number> = {};
  const count = (name: string, times: number): void => {
    if (times > 0) found[name] = (found[name] ?? 0) + times;
  };
  for (const [path, text] of parts) {
    // Parts of a kind count as one another: there may be more round sheets.
    count(path.replaceAll(/\d+/g, "#"), 1);
    for (const tag of ["f", "formula", "formula1", "formula2", "calculatedColumnFormula"]) {
      count(`<${tag}>`, [...text.matchAll(new RegExp(`<(?:\\w+:)?${tag}[ >]`, "g"))].length);
    }
    const links = /<(?:\w+:)?(?:hyperlink|oleLink|ddeLink|control|legacyDrawing)\b|TargetMode="/g;
    count("links", [...text.matchAll(links)].length);
  }
  return found;
}

const books = (one: Programme): [string, Map<string, string>][] =>
  files(one, ".xlsx")
    .filter((name) => !name.startsWith("book"))
    .map((name) => [name, partsOf(join(one.folder, name))]);

describe("what is written of hostile texts", () => {
  it("as a workbook holds the same formulas and no link, and every text as text", () => {
    const usual = new Map(books(tame));
    let formulas = 0;
    for (const one of hostiles) {
      for (const [name, parts] of books(one)) {
        expect([name, active(parts)]).toEqual([name, active(usual.get(name) ?? new Map())]);
        const { sheets, names } = openWorkbook(readFileSync(join(one.folder, name))).snapshot;
        const texts = sheets.flatMap((sheet) => [...sheet.formulas.values()]);
        formulas += texts.length;
        const all = [...texts, ...names.map(({ refersTo }) => refersTo)].join("\n");
        // Names of sheets come from sites; they are quoted, and nothing else of a cell gets in.
        expect([name, /calc|HYPERLINK|velloran|obeyed|SUM\(1/.exec(unquoted(all))]).toEqual([
          name,
          null,
        ]);
      }
    }
    expect(formulas).toBeGreaterThan(1000);
  });

  it("as a workbook keeps every cell of the book as it is, and names every sheet as spreadsheets can", () => {
    for (const one of hostiles) {
      for (const [name, parts] of books(one)) {
        const { sheets } = openWorkbook(readFileSync(join(one.folder, name))).snapshot;
        const sheetNames = [
          ...(parts.get("xl/workbook.xml") ?? "").matchAll(/<sheet name="([^"]*)"/g),
        ];
        for (const { name: title } of sheets) {
          expect([
            name,
            title,
            /^(?!')[^[\]:*?/\\\p{Cc}\p{Cs}\ufffd-\uffff]{1,31}(?<!')$/u.test(title),
          ]).toEqual([name, title, true]);
        }
        expect(sheetNames).toHaveLength(sheets.length);
        if (/purchase|copy|fixed/.test(name)) continue;
        const [register] = sheets;
        const [before] = one.snapshot.sheets;
        for (const [row, cells] of (before?.values ?? []).entries()) {
          // A shelf or date that a job changes is not among these.
          const same = name === "log.xlsx" ? [0, 1, 2, 3, 11] : cells.map((_, at) => at);
          for (const column of same) {
            expect(register?.values[row]?.[column] ?? null).toBe(cells[column] ?? null);
          }
        }
      }
    }
  });

  it("as a workbook is well-formed XML to another program (xmllint)", ({ skip }) => {
    if (spawnSync("xmllint", ["--version"]).error !== undefined) skip("xmllint is not installed");
    const place = join(folder, "parts");
    let count = 0;
    for (const one of hostiles) {
      for (const name of files(one, ".xlsx")) {
        const bytes = readFileSync(join(one.folder, name));
        const own = join(place, basename(one.folder), name);
        mkdirSync(own, { recursive: true });
        const paths = Object.entries(unzipSync(bytes)).flatMap(([path, part]) => {
          if (!/\.(xml|rels|vml)$/.test(path)) return [];
          const to = join(own, path.replaceAll("/", "_"));
          writeFileSync(to, strFromU8(part));
          return [to];
        });
        count += paths.length;
        const done = spawnSync("xmllint", ["--noout", "--nonet", ...paths], { encoding: "utf8" });
        expect([name, done.stderr, done.status]).toEqual([name, "", 0]);
      }
    }
    expect(count).toBeGreaterThan(200);
  });

  it("as a calendar is the same number of entries and of lines, folded, with no other property", () => {
    const known =
      /^(BEGIN|END|VERSION|PRODID|CALSCALE|UID|DTSTAMP|DTSTART|SUMMARY|DESCRIPTION|CATEGORIES|TRANSP)[:;]/;
    const shape = (text: string): Record<string, number> => {
      const found: Record<string, number> = {};
      for (const line of text.slice(0, -2).replaceAll("\r\n ", "").split("\r\n")) {
        const word = line.startsWith("BEGIN:") ? line : (known.exec(line)?.[1] ?? line);
        found[word] = (found[word] ?? 0) + 1;
      }
      return found;
    };
    const usual = shape(readFileSync(join(tame.folder, "due.ics"), "utf8"));
    expect(usual["BEGIN:VEVENT"]).toBeGreaterThan(50);
    for (const one of hostiles) {
      const text = readFileSync(join(one.folder, "due.ics"), "utf8");
      expect(shape(text)).toEqual(usual);
      for (const line of text.split("\r\n")) {
        expect(Buffer.byteLength(line)).toBeLessThanOrEqual(75);
        expect(/[^\t\P{Cc}]|\p{Cs}/u.exec(line)).toBeNull();
      }
      const names = files(one, ".ics").filter((name) => name.startsWith("calendars"));
      expect(names).toHaveLength(files(tame, ".ics").length - 1);
      for (const name of names) expect(basename(name)).toMatch(/^due [\p{L}\p{N}_-]+\.ics$/u);
      const together = names.map((name) => readFileSync(join(one.folder, name), "utf8")).join("");
      expect(shape(together)["BEGIN:VEVENT"]).toBe(usual["BEGIN:VEVENT"]);
    }
  });

  it("as CSV begins no cell with a sign that runs it; as UBL is well-formed and by the standard", () => {
    for (const [name, separator] of [
      ["purchase.csv", ","],
      ["semicolons.csv", ";"],
    ] as const) {
      const rowsOf = (one: Programme): string[][] =>
        readCsv(readFileSync(join(one.folder, name), "utf8").slice(1), separator);
      const rows = rowsOf(hostile);
      expect(rows.map(({ length }) => length)).toEqual(rowsOf(tame).map(({ length }) => length));
      for (const cell of rows.flat()) {
        expect(/^[\s\u00a0]*[=+\-@\uff1d\uff0b\uff0d\uff20]|^[\t\r\n]/.exec(cell)).toBeNull();
        expect(/(?![\n\t])\p{Cc}|\p{Cs}/u.exec(cell)).toBeNull();
      }
    }
    const xml = (one: Programme) => readXml(readFileSync(join(one.folder, "purchase.xml"), "utf8"));
    expect(faultsOf(xml(hostile))).toEqual([]);
    const tags = (one: Programme): number => JSON.stringify(xml(one)).split('"name"').length;
    expect(tags(hostile)).toBe(tags(tame));
  });
});

/** Formulas without the names of sheets and other texts that are quoted in them. */
function unquoted(formulas: string): string {
  return formulas.replaceAll(/'(?:[^']|'')*'!|"(?:[^"]|"")*"/g, "");
}
