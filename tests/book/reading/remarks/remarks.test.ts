import { describe, expect, it } from "vitest";
import { whyOf } from "../../../../src/book/answers/answers.ts";
import { judge } from "../../../../src/book/columns/judge.ts";
import { mendingOf } from "../../../../src/book/day/mend.ts";
import { readBook } from "../../../../src/book/reading/read.ts";
import type { Problem, Reading } from "../../../../src/book/records/records.ts";
import { cellKey, type Snapshot } from "../../../../src/book/workbook/snapshot.ts";
import { day } from "../../../../src/core/day.ts";
import { bookOf, on, oursOf, sheetOf, told, type Typed } from "../../../scenes/scene.ts";

const DATE = on("2026-06-01");

/** One device with this remark under this heading. */
function remarked(remark: Typed, heading = "Remarks"): Reading {
  const rows: Typed[][] = [
    ["Device", "Electrode set replaced", heading],
    ["V-1", DATE, remark],
    ["V-2", DATE, null],
  ];
  return readBook(bookOf([sheetOf("Kit", rows)]), oursOf());
}

/** One device whose date, or identifier, has this comment. */
function commented(said: string, date: Typed = DATE, column = 1, row = 1): Snapshot {
  const rows: Typed[][] = [
    ["Device", "Electrode set replaced"],
    ["V-1", date],
    ["V-2", DATE],
  ];
  const comments = new Map([[cellKey(row, column), said]]);
  return bookOf([sheetOf("Kit", rows, { comments })]);
}

const read = (snapshot: Snapshot): Reading => readBook(snapshot, oursOf());
const only = ({ problems }: Reading): Problem | undefined => problems[0];

function stateOf(snapshot: Snapshot): string | undefined {
  const judged = judge(snapshot, read(snapshot));
  const set = judged.parts.find(({ code }) => code === "SET");
  return set === undefined ? undefined : judged.rows(set)[0]?.answers.state;
}

describe("a comment to a date", () => {
  it.each([
    ["no spare left"],
    ["not the old type"],
    ["next one in March"],
    ["Invoice No 12"],
    ["lot 12/25"],
    ["exp 2028-01-01"],
    ["room 3/4"],
  ])("leaves it as it is, and is told, where it speaks of something else: %s", (said) => {
    const { problems, devices } = read(commented(said));
    expect(problems.map(({ severity }) => severity)).toEqual(["notice"]);
    expect(devices[0]?.lastDone[0]?.date).toBe(day("2026-06-01"));
  });
  it.each([["date is a guess"], ["estimated"], ["not done"], ["changed on 15 May 2026"]])(
    "is doubt where it guesses, denies or names another day: %s",
    (said) => {
      expect(read(commented(said)).problems.map(({ severity }) => severity)).toEqual(["fault"]);
    },
  );
});

describe("a remark in the row of a device", () => {
  it.each([
    ["Condemned 12.10.26"],
    ["lead torn"],
    ["do not use"],
    ["don't use"],
    ["date wrong, was really 1 June"],
    ["changed 1 Feb. Torn 30 May"],
    ["torn - will be replaced"],
    ["OVERDUE - electrodes"],
    // A part is named, and more than the part may be meant.
    ["cushion new, date unsure"],
    ["all dates but the cushion's unsure"],
    ["condemned with its cushion"],
    ["broken; cushion is fine"],
    ["Gerät mit neuem Kissen defekt"],
    ["almohadilla del equipo rota"],
    ["date of the set unsure"],
    // Common practice, no source: what people write where a date does not hold.
    ["probably March"],
    ["date copied from last year"],
    ["only left one changed"],
    ["nur links gewechselt"],
    ["cushions were out of stock, old ones put back"],
    ["wrong size cushion fitted, second-hand"],
    ["Datum unsicher"],
    ["date incertaine"],
    ["fecha dudosa"],
    ["data incerta"],
    ["datum onzeker"],
    ["data niepewna"],
  ])("puts the row in doubt where it withdraws or condemns: %s", (remark) => {
    const reading = remarked(remark);
    expect(told(reading)).toEqual(["remark C2"]);
    expect(reading.devices.map(({ doubt }) => doubt)).toEqual(["remark", null]);
  });

  it.each([
    ["do not use in NICU"],
    ["really good device"],
    ["actually in room 4"],
    ["IT: wrong password"],
    ["was out of service in July, back now"],
    ["never out of order"],
    ["in quarantine Jan 2026, released"],
    ["ready for use"],
    ["used for all babies"],
    ["label of the cushion missing"],
    ["left door, ask for Kim"],
    ["set from another batch fitted"],
  ])("is heard as nothing where it does neither: %s", (remark) => {
    const reading = remarked(remark);
    expect(told(reading)).toEqual([]);
    expect(reading.devices.map(({ doubt }) => doubt)).toEqual([null, null]);
  });

  it.each([["Condition"], ["Status"], ["Notes"], ["Opmerkingen"], ["Known problems"]])(
    "is heard under %s",
    (heading) => {
      expect(told(remarked("cushion cracked", heading))).toEqual(["part remark C2"]);
    },
  );

  it.each([
    ["cushion missing", "CUSHION"],
    ["Ohrpolster fehlt", "CUSHION"],
    ["electrode date is a guess", "SET"],
    ["electrodes past shelf life", "SET"],
    ["almofada rasgada", "CUSHION"],
  ])("puts the part alone in doubt that it names: %s", (remark, part) => {
    const reading = remarked(remark);
    expect(told(reading)).toEqual(["part remark C2"]);
    expect(reading.devices[0]?.doubtedParts ?? reading.devices[0]?.doubt).toEqual([part]);
  });

  it("is a no under a heading that asks whether the date is sure", () => {
    expect(told(remarked("no", "Sure?"))).toEqual(["remark C2"]);
    expect(told(remarked("yes", "Sure?"))).toEqual([]);
  });

  it.each([
    ["electrodes due 1/10/26"],
    ["cushions ordered"],
    ["to be checked"],
    ["see paper list"],
    ["à vérifier"],
    ["por confirmar"],
    ["do sprawdzenia"],
    ["cushion torn, replaced 1 June 2026"],
    ["cushion torn and replaced"],
    ["cushion replaced (was torn)"],
  ])("is told where it may change a date and is not weighed: %s", (remark) => {
    const reading = remarked(remark);
    expect(told(reading)).toEqual(["unweighed remark C2"]);
    expect(reading.devices[0]?.doubt).toBeNull();
  });

  it.each([
    ["bought 2023"],
    ["no damage"],
    ["screen cracked"],
    ["lent to ward 4"],
    ["new trolley ordered"],
    ["OK"],
  ])("is nothing where it speaks of something else: %s", (remark) => {
    expect(told(remarked(remark))).toEqual([]);
  });
});

describe("a remark that names a part", () => {
  it.each([
    ["cushion date unsure", ["CUSHION"]],
    ["electrodes NOT changed, no stock", ["SET"]],
    ["not sure of electrode date", ["SET"]],
    ["Ear cushion: torn", ["CUSHION"]],
    ["cushion, date unsure", ["CUSHION"]],
    ["cushion out of use", ["CUSHION"]],
    // One part was replaced, another is torn.
    ["electrodes changed 1 Feb, cushion torn 30 May", ["CUSHION"]],
    ["cushion torn; electrodes replaced", ["CUSHION"]],
    ["Elektroden gewechselt, Polster gerissen", ["CUSHION"]],
    ["elektrody wymienione, poduszka pęknięta", ["CUSHION"]],
    ["1/2 electrodes changed; 30/5 cushion torn", ["CUSHION", "SET"]],
    ["cushion unsure, electrodes too", ["CUSHION", "SET"]],
    ["calibration doubtful", ["CALIBRATION"]],
    ["almohadilla rota", ["CUSHION"]],
    ["Elektroden nicht gewechselt", ["SET"]],
    ["électrodes non remplacées", ["SET"]],
  ])("puts that part in doubt: %s", (remark, codes) => {
    const reading = remarked(remark);
    expect(told(reading)).toEqual(["part remark C2"]);
    const [device] = reading.devices;
    expect(device?.doubt).toBeNull();
    expect([...(device?.doubtedParts ?? [])].sort()).toEqual(codes);
  });

  it("leaves an overdue date of another part overdue", () => {
    const rows: Typed[][] = [
      ["Device", "Electrode set replaced", "Ear cushion replaced", "Remarks", "Notes"],
      ["V-1", on("2025-06-02"), on("2026-06-01"), "cushion date unsure", null],
      ["V-2", on("2025-06-02"), on("2026-06-01"), "cushion date unsure", "do not use"],
    ];
    const snapshot = bookOf([sheetOf("Kit", rows)]);
    const judged = judge(snapshot, read(snapshot));
    const states = (code: string): string[] =>
      judged.parts
        .filter((part) => part.code === code)
        .flatMap((part) => judged.rows(part).map(({ answers }) => answers.state));
    expect(states("SET")).toEqual(["Overdue", "Check row"]);
    expect(states("CUSHION")).toEqual(["Check row", "Check row"]);
    const cushion = judged.parts.find(({ code }) => code === "CUSHION");
    const checks = (cushion === undefined ? [] : judged.rows(cushion)).map(({ answers, facts }) =>
      whyOf(answers, facts),
    );
    expect(checks).toEqual([
      "Date in doubt: a remark speaks against the part",
      "Date in doubt: a remark speaks against the row",
    ]);
  });
});

describe("a comment to a date", () => {
  it.each([
    ["NOT changed on this day - no stock! Really changed 2 May 2026."],
    ["Ojo: no se cambió ese día, el cambio real fue el 15 de mayo de 2026."],
    ["Falta confirmar con enfermería"],
    ["changed 3/4?"],
    ["28/05/2026"],
    ["one lead torn"],
  ])("that speaks against it puts it in doubt: %s", (said) => {
    const snapshot = commented(said);
    expect(told(read(snapshot))).toEqual(["comment B2"]);
    expect(stateOf(snapshot)).toBe("Check row");
  });

  it("that does not is told, and names whoever wrote it nowhere", () => {
    const snapshot = commented("Ann Other:\nLot in the blue folder");
    expect(told(read(snapshot))).toEqual(["unweighed comment B2"]);
    expect(only(read(snapshot))?.cause).toBe(
      'The cell has a comment that is not weighed: "Lot in the blue folder".',
    );
    expect(stateOf(snapshot)).toBe("Not due");
  });

  it("may name the very day", () => {
    expect(told(read(commented("changed 01/06/2026")))).toEqual(["unweighed comment B2"]);
  });

  it("is not shown where it may be about a person", () => {
    const said = ["record 4711-0815-33 9876543", "write to a.b@example.org", "Other, Ann"];
    for (const one of said) {
      const cause = only(read(commented(one)))?.cause ?? "";
      expect(cause).toContain("not shown, since it may be about a person");
    }
  });

  it("keeps mend from a text", () => {
    const snapshot = commented("the left one only", "1 June 2026");
    expect(told(read(snapshot))).toEqual(["text date B2"]);
    expect(only(read(snapshot))?.cause).toContain('it has a comment: "the left one only"');
    expect(mendingOf(snapshot, read(snapshot)).cells).toEqual([]);
  });
});

describe("a status beside a remark", () => {
  it("is told all the same", () => {
    const rows: Typed[][] = [
      ["Device", "Electrode set replaced", "Status", "Notes"],
      ["V-1", DATE, "Lost", "lead torn"],
    ];
    const reading = readBook(bookOf([sheetOf("Kit", rows)]), oursOf());
    expect(told(reading)).toEqual(["remark D2", "unknown status C2"]);
  });
});

describe("a comment to a heading of dates", () => {
  it("speaks against each of them, or is told once", () => {
    expect(told(read(commented("day it was ordered, not changed", DATE, 1, 0)))).toEqual([
      "comment B2",
      "comment B3",
    ]);
    expect(told(read(commented("from the blue folder", DATE, 1, 0)))).toEqual([
      "unweighed comment B1",
    ]);
  });
});

describe("a comment to a device", () => {
  it("puts the row in doubt where it condemns, else is told", () => {
    expect(told(read(commented("lead torn", DATE, 0)))).toEqual(["remark A2"]);
    expect(told(read(commented("in the grey case", DATE, 0)))).toEqual(["unweighed comment A2"]);
  });

  it("is heard at any cell of its row", () => {
    expect(told(read(commented("Falta confirmar", DATE, 5)))).toEqual(["unweighed comment F2"]);
    expect(told(read(commented("do not use", DATE, 5)))).toEqual(["remark F2"]);
  });
});

describe("a note without a heading, right of the table", () => {
  it("is heard as a remark", () => {
    const rows: Typed[][] = [
      ["Device", "Electrode set replaced"],
      ["V-1", DATE, null, "date not certain, check"],
      ["V-2", DATE, null, "by the window"],
    ];
    const { problems } = readBook(bookOf([sheetOf("Kit", rows)]), oursOf());
    expect(problems.map(({ kind, row }) => [kind, row])).toEqual([["remark", 1]]);
  });
});

/** What blind readers found to say nothing (common practice, no source). */
describe("a remark in the words of other people", () => {
  const said = (remark: string): string[] =>
    remarked(remark).problems.map(({ kind, severity }) => `${kind}: ${severity}`);

  it.each([
    ...["date is order date", "do not rely on the date", "date lost", "Datum geschätzt"],
    ...["date estimée", "fecha estimada", "data stimata", "datum geschat", "data szacunkowa"],
    ...["ne pas utiliser", "no usar", "non usare", "niet gebruiken", "nie używać"],
    ...["expired", "recalled", "überfällig", "abgelaufen", "périmé", "vencido", "scaduto"],
    ...["left only", "one side only", "nur links", "solo izquierda", "alleen links", "tylko lewa"],
    ...["used electrodes fitted", "set from A2", "borrowed set", "skin reaction"],
    ...["needs replacing", "replace asap", "muss gewechselt werden", "à changer", "do wymiany"],
    ...["change electrodes", "Elektroden wechseln", "LATE", "past due", "fällig", "en retard"],
    ...["atrasado", "em atraso", "in ritardo", "te laat", "po terminie", "Change now", "red"],
  ])("puts the row in doubt: %s", (remark) => {
    expect(said(remark)).toEqual([expect.stringMatching(/^(?:part )?remark: fault$/)]);
  });

  it.each(["see e-mail", "??", "in repair"])("is told: %s", (remark) => {
    expect(said(remark)).toEqual(["unweighed remark: notice"]);
  });

  it.each(["warranty expired", "Garantie abgelaufen", "spare in the cupboard", "left ward in May"])(
    "is of something else: %s",
    (remark) => {
      expect(said(remark)).toEqual([]);
    },
  );
});

describe("a comment on the sheet to a cell of no device", () => {
  it.each([
    ["all dates approximate", "A1"],
    ["dates of row 2 are wrong", "C7"],
    ["electrodes: see the other list", "I1"],
    ["Termine nicht sicher, Elektroden prüfen", "A7"],
  ])("is told where it may be of dates: %s", (said, place) => {
    const at = { row: Number(place.slice(1)) - 1, column: (place.codePointAt(0) ?? 0) - 65 };
    const { problems } = read(commented(said, DATE, at.column, at.row));
    const told = problems.filter(({ kind }) => kind === "unweighed comment");
    expect(told).toMatchObject([at]);
    expect(told[0]?.cause).toContain(`not weighed: "${said}"`);
  });
  it.each(["Printed by the office", "Number on the label"])("is not told otherwise: %s", (said) => {
    expect(told(read(commented(said, DATE, 0, 0)))).toEqual([]);
  });
});
