import { describe, expect, it } from "vitest";
import { WORK } from "../../../src/book/headings/work-senses.ts";
import { workReader } from "../../../src/book/headings/work-text.ts";
import { LANGUAGES } from "../../../src/book/languages/index.ts";
import { phraseOf } from "../../../src/book/languages/words-of.ts";
import { DEFAULT_PARTS } from "../../../src/book/records/parts.ts";
import { workSaid } from "../../../src/book/records/work.ts";
import { workText } from "../../../src/book/records/work-told.ts";

/** Words as people write them into a log; invented, in the ways of the trade (common practice, no source). */
const { read, turns } = workReader(DEFAULT_PARTS);
const said = (text: string, heading = ""): string => {
  const { says, work } = read(text, heading);
  return `${says}: ${workText(work)}`;
};

describe("a wording of two works counts for neither until a person says which is whose", () => {
  it.each([
    "electrodes checked, cushions replaced",
    "cushions replaced, electrodes ok",
    "replaced cushions and cleaned electrodes",
    "wiped electrodes, changed cushions",
    "electrodes corroded, cushions replaced",
    "replaced left cushion, electrodes ok",
    "almohadillas nuevas, electrodos limpios",
    "cuscinetti nuovi, elettrodi puliti",
    "elektroden gecontroleerd, kussens vervangen",
    "coussinets changés, électrodes nettoyées",
    "Polster gewechselt, Elektroden gereinigt",
    // Those of before may have been looked at.
    "inspected new electrodes",
    "cleaned new electrodes",
    "neue Elektroden geprüft",
    // Swapped for new ones, or with another device.
    "electrodes swapped",
  ])("%s", (text) => {
    expect(read(text, "").says).toBe("unclear");
  });

  it("counts where one part is replaced and looked at in one go", () => {
    expect(said("cushion inspected and replaced")).toBe("clear: CUSHION replaced");
    expect(said("electrodes and cushions replaced")).toBe("clear: SET replaced; CUSHION replaced");
  });
});

describe("a wording of which every word is known counts", () => {
  it.each([
    ["new electrodes", "SET replaced"],
    ["Electrode set replaced", "SET replaced"],
    ["cushion changed", "CUSHION replaced"],
    ["new electrodes and cushions", "SET replaced; CUSHION replaced"],
    ["ear pads changed", "CUSHION replaced"],
    ["cushion L+R changed", "CUSHION replaced"],
    ["annual calibration done", "CALIBRATION calibrated"],
    [
      "cracked cushion replaced",
      "CUSHION replaced damaged".replace(" damaged", "; CUSHION damaged"),
    ],
    ["cushion cracked", "CUSHION damaged"],
    ["electrodes worn out", "SET damaged"],
    ["checked, no damage", "inspected"],
    ["cleaned", "nothing"],
    ["sent for calibration", "nothing"],
    ["printer broken", "nothing"],
    ["Elektroden gewechselt", "SET replaced"],
    ["Ohrpolster erneuert", "CUSHION replaced"],
    ["Polster rissig", "CUSHION damaged"],
    ["zur Kalibrierung geschickt", "nothing"],
    ["electrodos nuevos", "SET replaced"],
    ["almohadilla rota", "CUSHION damaged"],
    ["électrodes changées", "SET replaced"],
    ["coussinet gauche remplacé", "CUSHION partial"],
    ["elettrodi sostituiti", "SET replaced"],
    ["eléctrodos substituídos", "SET replaced"],
    ["nieuwe elektroden", "SET replaced"],
    ["elektrody wymienione", "SET replaced"],
  ])("%s: %s", (text, meaning) => {
    expect(said(text)).toBe(`clear: ${meaning}`);
  });
  it.each(["leads damaged", "crack in lead", "cable cracked", "red lead cracked, taped"])(
    "damage to a lead may be a part's: %s",
    (text) => {
      const { says, work } = read(text, "");
      expect([says, work.some(({ damaged }) => damaged)]).toEqual(["clear", true]);
    },
  );
  it.each(["Kabel gebrochen", "rotes Kabel defekt", "cable roto", "câble cassé"])(
    "so it does in other languages: %s",
    (text) => {
      expect(read(text, "").work.some(({ damaged }) => damaged)).toBe(true);
    },
  );
  it("takes the job from the heading of a column of parts", () => {
    expect(said("electrodes", "Part replaced")).toBe("clear: SET replaced");
    expect(said("electrodes", "Part")).toBe("unclear: SET replaced");
    expect(said("electrodes", "Part not replaced")).toBe("unclear: SET replaced");
  });
  it.each(["inspection", "checked, ok", "cleaned", "withdrawn", "clean"])(
    "but not where the words say something else: electrodes %s",
    (words) => {
      expect(read(`electrodes ${words}`, "Part replaced").says).toBe("unclear");
      expect(said(`electrodes replaced, ${words}`, "Part replaced")).toContain("SET replaced");
    },
  );
  it("one side of a pair is no replacement", () => {
    expect(said("left cushion replaced")).toBe("clear: CUSHION partial");
    expect(said("one electrode changed")).toBe("clear: SET partial");
  });
});

describe("a wording that may be no renewal is not one", () => {
  it.each([
    "replaced earpiece L",
    "electrode changed",
    "change cushions",
    "electrode replacement cable",
    "ordered new electrodes",
    "new cushions arrived",
    "electrodes to be changed",
    "electrodes for replacement",
    "electrodes not replaced",
    "electrodes changed?? ask Sue",
    "cushions changed?",
    "new cushions?",
    "Ohrpolster gewechselt?",
    "calibration done?",
    "electrode cable replaced",
    "new electrodes next week",
    "electrodes",
    "replaced",
    "calibration not done",
    "calibration failed",
    "Elektroden bestellt und neu",
    "Elektroden wechseln",
    "pedir electrodos nuevos",
    "électrodes à changer",
  ])("%s", (text) => {
    expect(read(text, "").says).not.toBe("clear");
  });
  it("no turning word of any language leaves a renewal clear", () => {
    const turning = LANGUAGES.flatMap(({ work }) => [...work.later, ...work.no, ...work.maybe]);
    for (const word of turning) {
      const { says, work } = read(`${word} new electrodes`, "");
      expect([word, says === "clear" && work.some(({ job }) => job === "replaced")]).toEqual([
        word,
        false,
      ]);
    }
  });
  it("a note beside the words may turn them", () => {
    expect(["done?", "only the left one", "not yet", "cracked", "see folder 3"].map(turns)).toEqual(
      [true, true, true, true, false],
    );
  });
});

it("no phrase means two things in two languages", () => {
  const other = LANGUAGES.flatMap(({ name, work }) =>
    Object.entries(work).flatMap(([sense, phrases]) =>
      phrases.flatMap((phrase) => {
        const means = WORK.get(phraseOf(phrase));
        return means === sense ? [] : [`${name}: ${phrase} is ${sense} and ${String(means)}`];
      }),
    ),
  );
  expect(other).toEqual([]);
});

describe("a meaning as a person says it", () => {
  it.each([
    "SET replaced",
    "SET partial",
    "CUSHION damaged",
    "CALIBRATION calibrated",
    "withdrawn",
    "inspected",
    "nothing",
    "SET replaced; CUSHION replaced",
  ])("%s", (text) => {
    expect(workText(workSaid(text, DEFAULT_PARTS) ?? [])).toBe(text);
  });
  it("takes a part's name", () => {
    expect(workText(workSaid("ear cushion replaced", DEFAULT_PARTS) ?? [])).toBe(
      "CUSHION replaced",
    );
  });
  it.each([
    "",
    "replaced",
    "CALIBRATION replaced",
    "SET calibrated",
    "SET withdrawn",
    "TIP replaced",
    "SET",
  ])("refuses %j", (text) => {
    expect(workSaid(text, DEFAULT_PARTS)).toBeNull();
  });
});
