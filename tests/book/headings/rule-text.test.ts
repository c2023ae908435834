import { describe, expect, it } from "vitest";
import { ruleReader } from "../../../src/book/headings/rule-text.ts";
import { oursOf } from "../../scenes/scene.ts";

const rules = ruleReader(oursOf().parts.filter(({ task }) => !task));

/** Sentences are invented; their words for times are the dictionaries', from memory. */
describe("rules of a programme's own in words", () => {
  it.each([
    ...["Replace electrodes every 2 months", "Electrodes: every 2 months", "Electrodes 2-monthly"],
    ...["Changer les électrodes tous les 2 mois", "Remplacer les électrodes toutes les 8 semaines"],
    ...["Cambiar electrodos cada 2 meses", "Trocar elétrodos a cada 2 meses"],
    ...["Trocar elétrodos de 2 em 2 meses", "Sostituire elettrodi ogni 2 mesi"],
    ...["Elektroden om de 2 maanden vervangen", "Elektroden alle 2 Monate wechseln"],
    ...["Wymieniać elektrody co 2 miesiące", "Elettrodi: ogni 60 giorni", "Elektroden monatlich"],
    "Inspect twice a week. Replace electrodes every 2 months.",
    ...[
      "Electrodes: 8 weeks",
      "Electrodes 8 weeks",
      "Electrodes max. 60 days",
      "Electrodes - 2 months",
    ],
    ...[
      "Change electrodes after 200 tests",
      "Elektroden: 8 Wochen",
      "Elektroden höchstens 60 Tage",
    ],
    ...["Électrodes : 8 semaines", "Électrodes max. 2 mois", "Electrodos: 8 semanas"],
    ...[
      "Elétrodos: 60 dias",
      "Elettrodi: 8 settimane",
      "Elektroden: 8 weken",
      "Elektrody: 8 tygodni",
    ],
  ])("are heard: %s", (text) => {
    expect(rules.states(text)).toBe(true);
    expect(rules.isShorter(text)).toBe(true);
  });

  it.each([
    ...["Inspect electrodes every 2 weeks", "Electrodes are cleaned every day with wipes"],
    ...["Elektroden alle 2 Wochen prüfen", "Nettoyer les électrodes tous les 2 jours"],
    ...["Electrode delivery: 8 weeks", "Electrodes ordered 8 weeks ago", "Lead time 2 weeks"],
    ...["Electrodes 8", "Electrodes left: 8 weeks", "Electrode trial 2 months", "8 weeks"],
    ...["Batteries every 24 months", "Electrodes replaced", "Every 2 months"],
  ])("are none: %s", (text) => {
    expect(rules.states(text)).toBe(false);
  });

  it("that no part's interval exceeds are not shorter", () => {
    expect(rules.isShorter("Electrodes every 24 months")).toBe(false);
    expect(rules.isShorter("Electrodes every 24 weeks")).toBe(true);
    expect(rules.isShorter("Electrodes: 24 months")).toBe(false);
  });
});

describe("how often the parts of one device are replaced, beside it", () => {
  it.each([
    ...["NICU: change every 4 weeks", "change monthly", "interval 1 month here", "max 60 days"],
    ...["change more often", "electrodes monthly", "high use: electrodes 6 weeks", "every month"],
    ...["monatlich wechseln", "jeden Monat", "öfter wechseln", "höchstens 60 Tage"],
    ...["tous les mois", "changer chaque mois", "mensual", "cada mes", "ogni mese", "mensalmente"],
    ...["maandelijks", "elke maand", "vaker vervangen", "co miesiąc", "wymieniać częściej"],
    ...["Neo: alle 4 Wochen wechseln", "Néonat : changer toutes les 4 semaines"],
    ...["UCI neonatal: cambiar cada 4 semanas", "UTI neonatal: trocar a cada 4 semanas"],
    ...["TIN neonatale: sostituire ogni 4 settimane", "NICU: elke 4 weken vervangen"],
    "Oddział noworodków: wymieniać co 4 tygodnie",
    ...["change cushions every 3 months", "intervalo 2 meses", "max. 2 mois"],
  ])("is heard: %s", (text) => {
    expect(rules.ofDevice(text)).toBe(true);
  });

  it.each([
    ...["cleaned weekly", "wipe every day", "inspect every 2 weeks", "wöchentlich prüfen"],
    ...["replace battery every 12 months", "calibrated every 12 months", "Akku alle 2 Jahre"],
    ...["lent to the outpatient clinic every month", "in use 2 months", "changed 3 weeks ago"],
    ...["back from repair after 6 weeks", "new in 2024", "moved to ward 3", "", "cable checked"],
  ])("is not where it is of something else: %s", (text) => {
    expect(rules.ofDevice(text)).toBe(false);
  });
});
