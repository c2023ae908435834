import { createHash } from "node:crypto";
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import { afterAll, describe, expect, it } from "vitest";
import { calendarText, type DueEvent, dueEvents } from "../../../src/book/day/calendar.ts";
import { type Day, day, isoText } from "../../../src/core/day.ts";
import { type Kit, programme } from "../../scenes/kept-scene.ts";
import { sparespan } from "../../cli/session.ts";
import { REPORT_DATE } from "../../scenes/scene.ts";
import { cases } from "../../cases.ts";

/** An entry as the reader below understands it. */
interface Entry {
  readonly uid: string;
  readonly stamp: string;
  readonly date: string;
  readonly summary: string;
  readonly description: string;
  readonly categories: readonly string[];
}

const LONGEST_LINE = 75;

/** A reader of its own, by RFC 5545: it takes bytes and refuses all that is not as it must be. */
function readCalendar(bytes: Uint8Array): Entry[] {
  const text = new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes);
  if (!text.endsWith("\r\n") || /\r(?!\n)|(?<!\r)\n/.test(text)) throw new Error("line ends");
  const lines: string[] = [];
  for (const line of text.slice(0, -2).split("\r\n")) {
    if (Buffer.byteLength(line) > LONGEST_LINE) throw new Error(`long line ${line}`);
    const last = lines.length - 1;
    if (line.startsWith(" ")) lines[last] = `${lines[last] ?? ""}${line.slice(1)}`;
    else lines.push(line);
  }
  const [begin, version, product, scale, ...rest] = lines;
  expect([begin, version, scale]).toEqual([
    ...["BEGIN:VCALENDAR", "VERSION:2.0", "CALSCALE:GREGORIAN"],
  ]);
  expect(product).toMatch(/^PRODID:.+/);
  expect(rest.pop()).toBe("END:VCALENDAR");
  const entries: Entry[] = [];
  while (rest.length > 0) {
    if (rest.shift() !== "BEGIN:VEVENT") throw new Error("not an event");
    const end = rest.indexOf("END:VEVENT");
    entries.push(entryOf(rest.splice(0, end)));
    rest.shift();
  }
  if (entries.length === 0) throw new Error("a calendar needs an entry");
  return entries;
}

function entryOf(lines: readonly string[]): Entry {
  const properties = new Map<string, string>();
  for (const line of lines) {
    const [, name = "", value = ""] = /^([A-Z]+(?:;[A-Z]+=[A-Z]+)*):(.*)$/su.exec(line) ?? [];
    if (name === "" || properties.has(name)) throw new Error(`cannot read ${line}`);
    properties.set(name, value);
  }
  const get = (name: string): string => properties.get(name) ?? `no ${name}`;
  const start = /^(\d{4})(\d\d)(\d\d)$/.exec(get("DTSTART;VALUE=DATE"));
  expect(get("TRANSP")).toBe("TRANSPARENT");
  expect(properties.size).toBe(7);
  return {
    uid: textOf(get("UID")),
    stamp: get("DTSTAMP"),
    date: start?.slice(1).join("-") ?? "no date",
    summary: textOf(get("SUMMARY")),
    description: textOf(get("DESCRIPTION")),
    categories: get("CATEGORIES")
      .split(/(?<!\\)(?:\\\\)*,/)
      .map(textOf),
  };
}

/** The text a value stands for; a character that must be escaped and is not is refused. */
function textOf(value: string): string {
  let text = "";
  for (let at = 0; at < value.length; at += 1) {
    const character = value.charAt(at);
    if (/[;,]|(?!\t)\p{Cc}/u.test(character)) throw new Error(`bare ${character} in ${value}`);
    if (character !== "\\") {
      text += character;
      continue;
    }
    at += 1;
    const escaped = value.charAt(at);
    if (!["\\", ";", ",", "n"].includes(escaped)) throw new Error(`\\${escaped} in ${value}`);
    text += escaped === "n" ? "\n" : escaped;
  }
  return text;
}

function read(events: readonly DueEvent[]): Entry[] {
  return readCalendar(Buffer.from(calendarText(events, REPORT_DATE)));
}

/** What an event must be read as. */
function meant({ uid, date, summary, description, site }: DueEvent): Entry {
  const stamp = "20260630T000000Z";
  return { uid, stamp, date: isoText(date), summary, description, categories: [site] };
}

function eventsOf(kits: readonly Kit[], sites: readonly string[] = []): DueEvent[] {
  const { snapshot, reading } = programme(kits);
  return dueEvents(snapshot, reading, sites);
}

const AWKWARD: readonly DueEvent[] = [
  {
    uid: "a%2F1-SET-2026-07-01@sparespan",
    site: "S01, ground floor",
    date: day("2026-07-01"),
    summary: "Replace Electrode set: A/1; \\ (S01, ground floor)",
    description: 'Due 2026-07-01.\nSecond line, with "quotes": =1+1\n@last',
  },
  {
    uid: "b-CUSHION-none@sparespan",
    site: "Überlauf",
    date: day("2028-02-29"),
    summary: `${"é".repeat(70)}${"𝄞".repeat(30)} end`,
    description: "x".repeat(300),
  },
];

describe("a calendar file", () => {
  it("is read by another program (icalendar, Python) as it was meant", () => {
    const at = (ending: string): string =>
      new URL(`../../reference/due-dates.${ending}`, import.meta.url).pathname;
    const text = calendarText(AWKWARD, REPORT_DATE);
    expect(readFileSync(at("ics"), "utf8")).toBe(text);
    const other = JSON.parse(readFileSync(at("json"), "utf8")) as {
      sha256: string;
      errors: unknown[];
      events: Record<string, unknown>[];
    };
    expect(other.sha256).toBe(createHash("sha256").update(text).digest("hex"));
    expect(other.errors).toEqual([]);
    // That program takes an escaped comma between categories for a bare one; the text itself is whole.
    const categories = (events: readonly { readonly categories?: unknown }[]): string[] =>
      events.map((event) => String(event.categories));
    const expected = AWKWARD.map((event) => {
      return { ...meant(event), stamp: "2026-06-30T00:00:00+00:00", allDay: true, errors: [] };
    });
    expect(categories(other.events)).toEqual(categories(expected));
    const bare = (event: object): object => ({ ...event, categories: null });
    expect(other.events.map(bare)).toEqual(expected.map(bare));
  });

  it("is read by a strict reader as it was meant, whatever the texts", () => {
    expect(read(AWKWARD)).toEqual(AWKWARD.map(meant));
    const text = fc.string({ unit: "binary", maxLength: 200 });
    // What a text cannot hold is changed on purpose: halves of characters, control characters, line ends.
    const plain = (value: string): string =>
      value
        .replaceAll(/\p{Cs}/gu, "\ufffd")
        .replaceAll(/\r\n|\r/g, "\n")
        .replaceAll(/(?![\t\n])\p{Cc}/gu, " ");
    const event = fc.record({
      uid: text,
      site: text.map((value) => value.replaceAll(/[,\\]/g, "")),
      date: fc.integer({ min: 61, max: 2_958_465 }).map((serial) => serial as Day),
      summary: text,
      description: text,
    });
    fc.assert(
      fc.property(fc.array(event, { minLength: 1, maxLength: 3 }), (events) => {
        expect(read(events)).toEqual(
          events.map((one) => {
            const { uid, site, summary, description } = one;
            const texts = { uid, site, summary, description };
            const entries = Object.entries(texts).map(([key, value]) => [key, plain(value)]);
            return meant({ ...one, ...(Object.fromEntries(entries) as typeof texts) });
          }),
        );
      }),
      { numRuns: cases("Calendars of whatever texts", 100, 25) },
    );
  });

  it("is refused by that reader when a line end, an escape or an entry is not as it must be", () => {
    const text = calendarText(AWKWARD, REPORT_DATE);
    const broken = (from: string | RegExp, to: string): (() => unknown) => {
      return () => readCalendar(Buffer.from(text.replace(from, to)));
    };
    expect(broken("\r\n", "\n")).toThrow("line ends");
    expect(broken("\\,", ",")).toThrow("bare ,");
    expect(broken("\\n", "\\q")).toThrow("\\q");
    expect(broken("\r\n ", "")).toThrow("long line");
    expect(broken(/BEGIN:VEVENT.*END:VEVENT\r\n/s, "")).toThrow("needs an entry");
  });
});

describe("the due dates of a calendar", () => {
  it("are one a device and part within a year; overdue and undated ones on the report date", () => {
    const kits = [
      { id: "A1", set: "2026-03-01", cushion: "2026-06-01" },
      { id: "A2", site: "S02", cushion: "2026-06-01", set: "unknown" },
      { id: "A3", set: "2026-06-01", cushion: "2026-06-01", finding: "crack" },
      { id: "A4", set: "2026-06-01", cushion: "2026-06-01", retired: "2026-10-01" },
      { id: "A5", status: "retired" },
    ];
    expect(eventsOf(kits).map(({ date, summary }) => `${isoText(date)} ${summary}`)).toEqual([
      "2026-06-30 Overdue: Replace Electrode set: A1 (S01)",
      "2026-06-30 Check row: Replace Electrode set: A2 (S02)",
      "2026-06-30 Overdue: Replace Electrode set: A3 (S01)",
      "2026-09-01 Replace Electrode set: A4 (S01)",
      "2026-12-01 Replace Ear cushion: A1 (S01)",
      "2026-12-01 Replace Ear cushion: A2 (S02)",
      "2026-12-01 Replace Ear cushion: A3 (S01)",
    ]);
    const [first, undated, finding] = eventsOf(kits);
    expect(first?.description).toMatch(/^Due 2026-06-01\.\nAs of 2026-06-30\.\nPlanning aid: /);
    expect(undated?.description).toMatch(/^No due date can be trusted\.\nRow check: Date is text/);
    expect(finding?.description).toContain("Finding: crack.");
    expect(eventsOf(kits, ["s02"]).map(({ site }) => site)).toEqual(["S02", "S02"]);
    expect(() => eventsOf(kits, ["S09"])).toThrow("the site must be one of the book's");
  });

  it("keep their identity while device, part and due date stay", () => {
    const [before] = eventsOf([{ id: "A 1", set: "2026-06-01", cushion: "2026-06-01" }]);
    const [after] = eventsOf([{ id: "a 1", site: "S02", set: "2026-06-01" }]);
    expect(before?.uid).toBe("a%201-SET-2026-09-01@sparespan");
    expect(eventsOf([{ id: "a 1", site: "S02", set: "2026-06-01" }])[1]?.uid).toBe(before?.uid);
    expect(after?.uid).toBe("a%201-CUSHION-none@sparespan");
    expect(eventsOf([{ id: "\ud800", set: "2026-06-01" }])[1]?.uid).toMatch(/^%EF%BF%BD-SET-/);
  });
});

describe("sparespan calendar", () => {
  const folder = mkdtempSync(join(tmpdir(), "sparespan-calendar-"));
  const book = join(folder, "velloran-20260706-clean.xlsx");
  const july = ["--report-date", "2026-07-06"];
  afterAll(() => {
    rmSync(folder, { recursive: true, force: true });
  });

  it("writes one file, the same twice, or one a site into a folder", async () => {
    expect((await sparespan("demo", folder)).code).toBe(0);
    const [out, again] = [join(folder, "due.ics"), join(folder, "again.ics")];
    const said = await sparespan("calendar", book, "-o", out, "--json", ...july);
    expect({ code: said.code, err: said.err }).toEqual({ code: 0, err: "" });
    const { events } = JSON.parse(said.out) as { events: { uid: string; date: string }[] };
    const entries = readCalendar(readFileSync(out));
    expect(entries.map(({ uid, date }) => [uid, date])).toEqual(
      events.map(({ uid, date }) => [uid, date]),
    );
    expect(new Set(entries.map(({ uid }) => uid)).size).toBe(entries.length);
    await sparespan("calendar", book, "-o", again, ...july);
    expect(readFileSync(again).equals(readFileSync(out))).toBe(true);
    const sites = join(folder, "sites");
    mkdirSync(sites);
    expect((await sparespan("calendar", book, "-o", sites, ...july)).code).toBe(0);
    const files = readdirSync(sites);
    expect(files).toHaveLength(8);
    const all = files.flatMap((file) => readCalendar(readFileSync(join(sites, file))));
    expect(all.map(({ uid }) => uid).sort()).toEqual(entries.map(({ uid }) => uid).sort());
  });

  it("writes over nothing, and nothing with --dry-run or without a place to write", async () => {
    const out = join(folder, "due.ics");
    const before = readFileSync(out);
    const refused = await sparespan("calendar", book, "-o", out, "--site", "S01", ...july);
    expect([refused.code, refused.err]).toEqual([
      2,
      `sparespan: ${out} already exists; choose another name or give --force\n`,
    ]);
    expect(readFileSync(out).equals(before)).toBe(true);
    const dry = join(folder, "dry.ics");
    expect((await sparespan("calendar", book, "-o", dry, "-n", ...july)).out).toMatch(
      /dry\.ics: \d+ due dates/,
    );
    expect(existsSync(dry)).toBe(false);
    expect((await sparespan("calendar", book, ...july)).code).toBe(0);
    expect((await sparespan("calendar", book, "-o", "due.xlsx", ...july)).err).toBe(
      "sparespan: -o must be a file that ends in .ics or an existing folder, got due.xlsx\n",
    );
    expect((await sparespan("calendar", book, "--in-place")).err).toContain("-o OUT.ics");
  });
});
