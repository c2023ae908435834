import { describe, expect, it } from "vitest";
import { speaksAgainstDate } from "../../../src/book/headings/comment-text.ts";
import { remarkReader } from "../../../src/book/headings/remark-text.ts";
import { DEFAULT_PARTS } from "../../../src/book/records/parts.ts";

/** What people write, common practice, no source; the words of other languages from memory. */
const SAYS: Readonly<Record<string, readonly string[]>> = {
  "that nothing was done": [
    ...["not done", "not yet", "nicht gemacht", "noch nicht", "pas fait", "pas encore", "no hecho"],
    ...["no se hizo", "não feito", "non fatto", "non ancora", "niet gedaan", "nog niet"],
    ...["nie wykonano", "jeszcze nie"],
  ],
  "that the day is to be asked": ["see paper log", "date from invoice", "a verificar"],
  "that it was put off": [
    ...["postponed", "deferred", "skipped", "missed", "verschoben", "reporté", "repoussé"],
    ...["aplazado", "pospuesto", "adiado", "rinviato", "rimandato", "uitgesteld", "przełożono"],
  ],
  "that it was done in part": [
    ...["left one only", "only red lead", "one of two", "one side", "partly", "nur die linke"],
    ...["eine von zwei", "teilweise", "gauche seulement", "un sur deux", "solo izquierda"],
    ...["só esquerda", "um de dois", "solo sinistra", "uno di due", "alleen links", "één van twee"],
    ...["tylko lewa", "jedna z dwóch"],
  ],
  "that it was no new part": [
    ...["refitted old set", "old set put back", "used part", "swapped with spare (used)"],
    ...["taken from A-05", "demo set", "borrowed from A-05", "gebrauchtes Teil", "altes Set"],
    ...["pièce d'occasion", "ancien jeu", "pieza usada", "juego viejo", "peça usada"],
    ...["pezzo usato", "gebruikt onderdeel", "oude set", "używana część", "stary zestaw"],
  ],
  "that it was less work": [
    ...[
      "cleaned only",
      "checked only",
      "inspected",
      "reset clock only",
      "nur gereinigt",
      "geprüft",
    ],
    ...["seulement nettoyé", "solo limpieza", "só limpeza", "solo pulito", "alleen gereinigd"],
    ...["tylko wyczyszczono"],
  ],
  "that a part is worn": [
    ...["yellowed", "discoloured", "hairline", "smells", "burn mark", "does not stick", "stiff"],
    ...["vergilbt", "klebt nicht", "jauni", "ne colle plus", "amarillenta", "no pega"],
    ...["amarelada", "não cola", "ingiallito", "non attacca", "vergeeld", "plakt niet"],
    ...["pożółkły", "nie klei"],
  ],
};

const HARMLESS = [
  ...["checked OK", "no cracks", "not cracked", "no discolouration", "never missed", "not used"],
  ...["changed and cleaned", "new set fitted, old one thrown away", "complete set", "just changed"],
  ...["geprüft, ok", "keine Risse", "nicht vergilbt", "pas de fissure", "contrôlé, ok"],
  ...["sin grietas", "revisado, ok", "verificado ok", "senza crepe", "controllato ok"],
  ...["geen scheuren", "gecontroleerd, in orde", "bez pęknięć", "sprawdzono, ok"],
  ...["both sides", "left and right", "used in room 4", "usado en sala 3", "not the old type"],
  ...["Old stock.", "from old stock", "alter Bestand", "stock antiguo", "ancien stock"],
  ...["scorte vecchie", "oude voorraad", "ze starego zapasu"],
];

const lines = Object.entries(SAYS).flatMap(([says, texts]) =>
  texts.map((text) => [says, text] as const),
);

describe("a comment to the date of a part", () => {
  it.each(lines)("speaks against it where it says %s: %s", (_, text) => {
    expect(speaksAgainstDate(text, null)).toBe(true);
  });

  it.each(HARMLESS.map((text) => [text]))("leaves it as it is: %s", (text) => {
    expect(speaksAgainstDate(text, null)).toBe(false);
  });
});

describe("a remark beside a device", () => {
  const { says } = remarkReader(DEFAULT_PARTS);

  it.each([
    ...["electrodes postponed", "Elektroden noch nicht gemacht", "changement reporté", "postponed"],
    ...[
      "coussinet jauni",
      "electrodes do not stick",
      "electrodes cleaned only",
      "only left cushion",
    ],
    ...["nur links", "gauche seulement", "used cushion fitted", "almohadilla usada", "pas fait"],
    ...["checked only", "one of two"],
  ])("speaks against its dates where it is of a part or of the work: %s", (text) => {
    expect(says(text)).toBe("against");
  });

  it.each([
    ...HARMLESS,
    ...["inspected", "cleaned", "used", "training only", "training cancelled", "delivery delayed"],
    ...["only one at site", "one of two screeners at Elm", "nur Station 3", "weekdays only"],
    ...[
      "old building",
      "alte Station",
      "borrowed from ward 3",
      "lent to ward 4",
      "screen yellowed",
    ],
    ...["electrodes checked OK", "cushion replaced because stained", "used for training"],
  ])("says nothing against them: %s", (text) => {
    expect(says(text)).not.toBe("against");
  });
});
