import { describe, expect, it } from "vitest";
import { day } from "../../../src/core/day.ts";
import {
  leftUndone,
  lotTakesBack,
  saysNothing,
  takesBack,
} from "../../../src/book/headings/job-text.ts";

const DAY = day("2026-07-06");

/** Notes beside a replacement of 6 July 2026 (common practice, no source). */
describe(takesBack.name, () => {
  it.each([
    ...["not really done", "did not do it", "not on ward", "LS2 not sure", "not fitted yet"],
    ...["old one put back", "put the old set back on 8 July", "old set refitted", "reused the old"],
    ...["used", "old one kept", "none left, old one", "put back", "same set put on again"],
    ...["cancelled", "void", "delete this", "ignore", "double entry", "duplicate", "mistake"],
    ...["planned", "to be fitted", "forgot to change", "tomorrow", "maybe", "tbc", "pending"],
    ...["half", "1 of 2", "incomplete", "white lead missing", "no red lead", "left side only"],
    ...["wrong device", "wrong set fitted", "fitted on A-03 instead", "swapped with A-03"],
    ...["alte wieder eingesetzt", "doch nicht gewechselt", "nicht wirklich gemacht", "aus A-03"],
    ...["ancien remis", "remis l'ancien", "pas vraiment fait", "à moitié", "annulé", "oublié"],
    ...["se volvió a poner el viejo", "puesto el viejo otra vez", "la mitad", "anulado"],
    ...["recolocado o velho", "voltou o antigo", "metade", "esquecido", "ainda não"],
    ...["rimesso il vecchio", "metà", "annullato", "dimenticato", "errore"],
    ...["oude teruggeplaatst", "helft", "vergeten", "dubbel", "nog niet"],
    ...["założono stary", "stare założone z powrotem", "połowa", "pomyłka", "zapomniano"],
  ])("is so: %s", (note) => {
    expect(takesBack(note, DAY)).toBe(true);
  });

  it.each([
    ...["fitted 3 June", "really 6 June", "done in May", "2026-06-03", "6/7/2025", "28.09."],
    ...["am 3. Juni gemacht", "fait en mai", "hecho en mayo", "em junho", "in juni", "3 juin"],
  ])("is so by another day: %s", (note) => {
    expect(takesBack(note, DAY)).toBe(true);
  });

  it.each([
    ...["6 July", "6/7", "7/6", "06.07.2026", "6. Juli", "6 juillet", "July 2026", "may last"],
    ...["ordered 3 June", "last changed 2 Jan", "next due in January", "lot 12/25", "exp 10/2028"],
    ...["done before on 2025-05-29", "set from May delivery", "3 months ago", "2 sets left"],
  ])("is not so by its own day, or that of another thing: %s", (note) => {
    expect(takesBack(note, DAY)).toBe(false);
  });

  it.each([
    ...["new set fitted", "routine", "scheduled", "as planned", "planned replacement", "Anna"],
    ...["done by night shift", "old one worn", "old set discarded", "too old", "torn", "was due"],
    ...["replaced old set", "new pair, old had yellowed", "old one cracked, new one fitted"],
    ...["cleaned and replaced", "left and right", "both leads", "from stock", "old stock"],
    ...["no problems", "no lot number", "lot not known", "label missing", "no damage", "last set"],
    ...["device back from repair", "back on ward", "not due yet but torn", "fell on floor"],
    ...["used 1 from stock", "last one used", "old one put in bin", "old kept as spare"],
    ...["old sent back to supplier", "3 months old", "old set lasted 5 months", "half-yearly"],
    ...["not applicable", "pas de problème", "nicht zutreffend", "niet van toepassing"],
    ...["halbjährlich", "oude verwijderd", "oude vervangen", "ancien retiré", "alte ausgebaut"],
    ...["neues Set", "planmäßig", "alte entsorgt", "nouveau jeu", "sin incidencias", "bez uwag"],
    ...["wymieniono", "vervangen", "sostituito", "substituído", "zestaw nowy", "nieuwe set"],
  ])("is not so: %s", (note) => {
    expect(takesBack(note, DAY)).toBe(false);
  });
});

describe(lotTakesBack.name, () => {
  it.each(["not fitted", "none left, old one", "not changed", "nicht gewechselt"])(
    "is so: %s",
    (lot) => {
      expect(lotTakesBack(lot)).toBe(true);
    },
  );
  it.each([
    "L2417",
    "not known",
    "unknown",
    "L2417?",
    "12/25",
    "none",
    "no lot",
    "old",
    "old stock",
  ])("is not so: %s", (lot) => {
    expect(lotTakesBack(lot)).toBe(false);
  });
});

describe(saysNothing.name, () => {
  it.each(["routine", "new set fitted", "lot 1234", "LS1", "done before on 2025-05-29", "neu"])(
    "is plain: %s",
    (note) => {
      expect(saysNothing(note)).toBe(true);
    },
  );
  it.each(["torn", "removed", "A-05", "see paper", "none left"])("is not: %s", (note) => {
    expect(saysNothing(note)).toBe(false);
  });
});

describe(leftUndone.name, () => {
  it.each([
    ...["not done", "not inspected", "device not on ward, not inspected", "not on ward", "skipped"],
    ...["missed", "forgot", "no time", "device away", "could not find it", "not checked"],
    ...["nicht geprüft", "nicht auf Station", "pas fait", "pas contrôlé", "absent", "no revisado"],
    ...["no se hizo", "não inspecionado", "não foi feito", "non controllato", "assente"],
    ...["niet gecontroleerd", "afwezig", "nie sprawdzono", "nie wykonano", "vergessen"],
  ])("is so: %s", (note) => {
    expect(leftUndone(note)).toBe(true);
  });
  it.each([
    ...["all fine", "not clean", "not torn", "no damage", "not replaced yet", "not due yet"],
    ...["cleaned twice", "next week replace", "order next week", "double checked", "no findings"],
    ...["torn, device not on ward since", "not used this week", "in use", "LS1", "sauber", "ok"],
  ])("is not so: %s", (note) => {
    expect(leftUndone(note)).toBe(false);
  });
});
