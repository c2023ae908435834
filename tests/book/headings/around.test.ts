import { describe, expect, it } from "vitest";
import { day } from "../../../src/core/day.ts";
import type { Reading } from "../../../src/book/records/records.ts";
import { undatedParts } from "../../../src/book/reading/unread/missing-columns.ts";
import { bookOf, on, readSheets, sheetOf, type Typed } from "../../scenes/scene.ts";

/** Headings of dates whose meaning stands around them: a due date taken for the last replacement lengthens. */
const IDS = ["A1", "A2", "A3", "A4"];
const kit = (...dates: string[]): Typed[][] => IDS.map((id) => [id, "Alder", ...dates.map(on)]);
const merged = (row: number, firstColumn: number, lastColumn: number) => ({
  ...{ firstRow: row, lastRow: row, firstColumn, lastColumn },
});
const LAST = "2026-05-04";
const NEXT = "2026-06-08";
const read = (rows: Typed[][], merges: ReturnType<typeof merged>[] = [], name = "Kit"): Reading =>
  readSheets([sheetOf(name, rows, { merges })]);
/** The dates that intervals are counted from: of the set, of the cushion. */
const dates = ({ devices }: Reading): (number | null)[] =>
  devices[0]?.lastDone.slice(0, 2).map(({ date }) => date) ?? [];

describe("a group of headings above, what each date is below", () => {
  const grouped = (...below: string[]): Typed[][] => [
    ["Device", "Site", "Electrodes", ...below.slice(1).map(() => null), "Ear cushions"],
    [null, null, ...below, ...below],
  ];
  it.each([
    [
      ["Last", "Next"],
      [LAST, NEXT],
    ],
    [
      ["Next", "Last"],
      [NEXT, LAST],
    ],
    [
      ["Next due", "Last replaced"],
      [NEXT, LAST],
    ],
    [
      ["Due", "Interval end", "Last"],
      [NEXT, NEXT, LAST],
    ],
  ] as [string[], string[]][])(
    "has the last replacement under %j, wherever it stands",
    (below, typed) => {
      const rows = [...grouped(...below), ...kit(...typed, ...typed)];
      const width = below.length;
      const merges = [merged(0, 2, 1 + width), merged(0, 2 + width, 1 + 2 * width)];
      expect(dates(read(rows, merges))).toEqual([day(LAST), day(LAST)]);
      expect(dates(read(rows))).toEqual([day(LAST), day(LAST)]);
    },
  );

  it.each(["Next", "Planned", "Need by", "Prochain"])(
    "has none where all there is is %s",
    (below) => {
      const rows = [...grouped(below), ...kit(NEXT, NEXT)];
      const reading = read(rows);
      expect(dates(reading)).toEqual([null, null]);
      const snapshot = bookOf([sheetOf("Kit", rows)]);
      for (const { problem } of undatedParts(snapshot, reading)) {
        expect(problem.fix).not.toContain("Electrodes");
      }
    },
  );

  it("is not turned by a row that says how dates are written, nor by notes beside devices", () => {
    const head: Typed[] = ["Device", "Site", "Electrodes", "Ear cushions"];
    const hint: Typed[] = [null, null, "(dd/mm/yyyy)", "(dd/mm/yyyy)"];
    expect(dates(read([head, hint, ...kit(LAST, LAST)]))).toEqual([day(LAST), day(LAST)]);
    expect(dates(read([head, ...kit(LAST, LAST)]))).toEqual([day(LAST), day(LAST)]);
  });
});

describe("a title or a banner above", () => {
  const head: Typed[] = ["Device", "Site", "Electrodes", "Ear cushions"];
  const done: Typed[] = ["Device", "Site", "Electrodes replaced", "Cushions replaced"];
  it.each([
    ["a banner over the dates", [[null, null, "NEXT DUE"], head], [merged(0, 2, 3)], "Kit"],
    ["a banner that is not merged", [[null, null, "Planned", "Planned"], head], [], "Kit"],
    ["a title", [["Due dates of parts"], head], [], "Kit"],
    ["the name of the sheet", [head], [], "Next changes"],
    ["a banner over what would be done", [[null, null, "Planned"], done], [merged(0, 2, 3)], "Kit"],
  ] as [string, Typed[][], ReturnType<typeof merged>[], string][])(
    "that says otherwise leaves the dates unused: %s",
    (_, heads, merges, name) => {
      expect(dates(read([...heads, ...kit(NEXT, NEXT)], merges, name))).toEqual([null, null]);
    },
  );
  it.each([
    ["a title of other words", [["Changes of parts"], head], "Kit"],
    ["a title above headings that say themselves what was done", [["Due dates"], done], "Due"],
    ["a title far above", [["Next audit in May"], [], [], done], "Kit"],
  ] as [string, Typed[][], string][])("leaves them as they are: %s", (_, heads, name) => {
    expect(dates(read([...heads, ...kit(LAST, LAST)], [], name))).toEqual([day(LAST), day(LAST)]);
  });
});

describe("dates ahead below a part's name alone", () => {
  const rows = (heading: string, ...typed: string[]): Typed[][] => [
    ["Device", "Site", heading],
    ...typed.map((date, at): Typed[] => [`A${at}`, "Alder", on(date)]),
  ];
  const past = Array.from({ length: 8 }, () => LAST);
  const kinds = (reading: Reading): string[] => reading.problems.map(({ kind }) => kind);

  it("may be due dates: none is used, not those gone by either", () => {
    const reading = read(rows("Electrodes", "2099-01-05", "2099-02-02", ...past));
    expect(kinds(reading)).toContain("due dates");
    expect(reading.devices.at(-1)?.lastDone[0]?.date).toBeNull();
  });
  it("are slips where there is one, or where the heading says what they are", () => {
    for (const typed of [
      rows("Electrodes", "2099-01-05", ...past),
      rows("Electrodes replaced", "2099-01-05", "2099-02-02", ...past),
    ]) {
      const reading = read(typed);
      expect(kinds(reading)).not.toContain("due dates");
      expect(reading.devices.at(-1)?.lastDone[0]?.date).toBe(day(LAST));
    }
  });
});

describe("names of parts below what says that something was done, and not that they were replaced", () => {
  const HEADS: Readonly<Record<string, Typed[]>> = {
    en: ["Device", "Site", "Electrodes", "Ear cushions"],
    de: ["Gerät", "Standort", "Elektroden", "Ohrpolster"],
    fr: ["Appareil", "Site", "Électrodes", "Coussinets"],
    es: ["Equipo", "Hospital", "Electrodos", "Almohadillas"],
    it: ["Apparecchio", "Sede", "Elettrodi", "Cuscinetti"],
    pt: ["Equipamento", "Hospital", "Elétrodos", "Almofadas"],
    nl: ["Apparaat", "Locatie", "Elektroden", "Oorkussens"],
    pl: ["Aparat", "Szpital", "Elektrody", "Poduszki"],
  };
  const at = (language: string, title: string, place: string): Reading => {
    const head = HEADS[language] ?? [];
    const rows = [head, ...kit(LAST, LAST)];
    if (place === "sheet") return read(rows, [], title);
    if (place === "title") return read([[title], ...rows]);
    return read([[null, null, title], ...rows], place === "merged" ? [merged(0, 2, 3)] : []);
  };
  const OTHER: readonly (readonly [string, string])[] = [
    ...["Last seen", "Last tested", "Last counted", "Seen"].map((it) => ["en", it] as const),
    ...["Letzte Prüfung", "Zuletzt gesehen", "Letzter Rundgang"].map((it) => ["de", it] as const),
    ...["Dernier contrôle", "Dernière vérification"].map((it) => ["fr", it] as const),
    ...["Última revisión", "Última comprobación", "Revisado el"].map((it) => ["es", it] as const),
    ...["Ultima verifica", "Ultimo controllo"].map((it) => ["it", it] as const),
    ...["Última verificação", "Último controlo"].map((it) => ["pt", it] as const),
    ...["Laatst gecontroleerd", "Laatste controle"].map((it) => ["nl", it] as const),
    ...["Ostatnia kontrola", "Ostatnio sprawdzono"].map((it) => ["pl", it] as const),
  ];
  it.each(OTHER)("are no dates of a replacement: %s, %s", (language, title) => {
    for (const place of ["over", "merged", "title", "sheet"]) {
      expect([place, ...dates(at(language, title, place))]).toEqual([place, null, null]);
    }
  });

  it("are told with what stands there", () => {
    const snapshot = bookOf([sheetOf("Last seen", [HEADS["en"] ?? [], ...kit(LAST, LAST)])]);
    const causes = undatedParts(snapshot, at("en", "Last seen", "sheet")).map(
      ({ problem }) => problem.cause,
    );
    expect(causes).toEqual([
      'No heading was understood as the last replacement of Electrode set: "Last seen" with "Electrodes" does not say that it was replaced.',
      'No heading was understood as the last replacement of Ear cushion: "Last seen" with "Ear cushions" does not say that it was replaced.',
    ]);
  });

  it("are in doubt below a word of any other work, where it stands over them alone", () => {
    for (const title of ["Walkround", "Wartung", "Przegląd"]) {
      expect(dates(at("en", title, "merged"))).toEqual([null, null]);
      expect(dates(at("en", title, "over"))).toEqual([null, null]);
    }
  });

  it.each([
    ["en", "Last replaced"],
    ["en", "Last done"],
    ["en", "Dates"],
    ["en", "Parts"],
    ["en", "Reusable parts"],
    ["en", "2026"],
    ["en", "Alder"],
    ["en", "Northshire newborn hearing programme"],
    ["en", "Equipment, last updated 2026-05-12"],
    ["de", "Letzter Wechsel"],
    ["de", "Zuletzt aktualisiert"],
    ["de", "Verschleißteile"],
    ["fr", "Dernier remplacement"],
    ["fr", "Dernière mise à jour"],
    ["fr", "Pièces"],
    ["es", "Último cambio"],
    ["es", "Consumibles"],
    ["it", "Ultima sostituzione"],
    ["it", "Accessori"],
    ["pt", "Última substituição"],
    ["pt", "Última troca"],
    ["nl", "Laatste vervanging"],
    ["nl", "Onderdelen"],
    ["pl", "Ostatnia wymiana"],
    ["pl", "Części"],
  ])("are the replacements below %s, %s", (language, title) => {
    for (const place of ["over", "merged", "title", "sheet"]) {
      expect([place, ...dates(at(language, title, place))]).toEqual([place, day(LAST), day(LAST)]);
    }
  });

  it("of a dated task say by it that it was done", () => {
    const rows = [["Gerät", "Standort", "Kalibrierung"], ...kit(LAST)];
    const [device] = read(rows, [], "Letzte Prüfung").devices;
    expect(device?.lastDone.at(-1)?.date).toBe(day(LAST));
  });

  it.each(["Northshire", "Walkround sheet", "Prado", "Sacred Heart"])(
    "are the replacements on a sheet named %s, and below it as a title",
    (title) => {
      for (const place of ["title", "sheet"]) {
        expect(dates(at("en", title, place))).toEqual([day(LAST), day(LAST)]);
      }
    },
  );
});
