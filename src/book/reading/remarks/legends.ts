import { folded, phraseOf } from "../../languages/words-of.ts";
import { list } from "../../languages/language.ts";
import { listed, notice } from "../../records/problems.ts";
import type { Problem } from "../../records/records.ts";
import { firstWords } from "../told/first-words.ts";
import type { Found } from "../register/register.ts";

/** Colours as the languages we read call them, folded. */
const COLOURS = new Set(
  [
    ...list("red, yellow, amber, orange, green, blue, grey, gray, pink, purple, brown"),
    ...list("rouge, jaune, vert, bleu, gris, rose, violet, marron"),
    ...list("rot, gelb, grün, blau, grau, rosa, lila, braun"),
    ...list("rojo, amarillo, naranja, verde, azul, gris, morado, marrón"),
    ...list("vermelho, amarelo, laranja, cinza, cinzento, roxo, castanho"),
    ...list("rosso, giallo, arancione, blu, azzurro, grigio, viola, marrone"),
    ...list("rood, geel, oranje, groen, blauw, grijs, roze, paars, bruin"),
    ...list("czerwony, żółty, pomarańczowy, zielony, niebieski, szary, różowy, fioletowy"),
  ].map(phraseOf),
);
/** "red = date not certain", "Yellow cells: order placed". */
const LINE = /^([^\s=:]+)(?:\s+\p{L}+)?\s*(?:=|:)\s*\S/u;

/** Lines of a legend: what they say of rows by a colour is not read, and told. */
export function legendNotices({ page, register }: Found): Problem[] {
  const { values, name } = page.sheet;
  // A site may be the Red House: what stands under a known heading is no legend.
  const columns = new Set(register.matches.map(({ column }) => column));
  const lines: { row: number; column: number; value: string }[] = [];
  let above = 0;
  values.forEach((cells, row) => {
    const isDevice = register.rows[above] === row;
    if (isDevice) above += 1;
    cells.forEach((value, column) => {
      if (typeof value !== "string" || (isDevice && columns.has(column))) return;
      if (isLegend(value)) lines.push({ row, column, value });
    });
  });
  const [first] = lines;
  if (first === undefined) return [];
  const { row, column } = first;
  const heading = register.headings[column] ?? "";
  const said = listed(lines.map(({ value }) => firstWords(value)));
  return [
    notice(
      "colours not read",
      { sheet: name, row, column, heading },
      `Colours with a meaning are not read: ${said}.`,
      "Write what a colour says into a column of its own, such as Status, or correct the date.",
    ),
  ];
}

function isLegend(text: string): boolean {
  const [, colour = ""] = LINE.exec(folded(text.trim())) ?? [];
  return COLOURS.has(phraseOf(colour));
}
