/**
 * Words that tell the pieces of one part apart, each with what else says it. Ours are sides, the colours and
 * places of leads, and numbers; in languages we read, the sides.
 */
const POSITIONS: readonly (readonly string[])[] = [
  ["left", "l", "lh", "links", "linke", "linker", "linkes", "gauche", "izquierdo", "izquierda"],
  ["left", "izq", "izqda", "esquerdo", "esquerda", "esq", "sinistro", "sinistra", "sx"],
  ["left", "linker", "lewy", "lewa", "lew", "li.", "izda", "gche"],
  ["right", "r", "rh", "rechts", "rechte", "rechter", "rechtes", "droit", "droite", "derecho"],
  ["right", "derecha", "dcha", "direito", "direita", "dir", "destro", "destra", "dx"],
  ["right", "prawy", "prawa", "praw", "re.", "der.", "dch", "dte"],
  ...["red", "white", "black", "blue", "green", "yellow"].map((colour) => [colour]),
  ...["forehead", "vertex", "nape", "neck", "cheek", "mastoid", "shoulder"].map((place) => [place]),
  ["upper", "top"],
  ["lower", "bottom"],
  ["1", "first", "1st"],
  ["2", "second", "2nd"],
  ["3", "third", "3rd"],
  ["4", "fourth", "4th"],
  ["others"],
];
const POSITION_OF = new Map(
  POSITIONS.flatMap(([position = "", ...others]) =>
    [position, ...others].map((word): [string, string] => [word, position]),
  ),
);

/** What is left besides a position that stands alone: the other side, or nobody knows how many. */
const OPPOSITES: Readonly<Record<string, string>> = {
  left: "right",
  right: "left",
  upper: "lower",
  lower: "upper",
};
const UNKNOWN_OTHERS = "others";

/** The positions of a part of which one alone has a column. */
export function besideIt(position: string): readonly string[] {
  const other = OPPOSITES[position] ?? UNKNOWN_OTHERS;
  return position === "right" || position === "lower" ? [other, position] : [position, other];
}

/** A text taken apart: which position it speaks of, and what it says of it. */
interface Positioned {
  readonly position: string;
  readonly rest: string;
}

/** The position a text speaks of; null where it names none. */
export function positionOf(text: string): Positioned | null {
  const named: string[] = [];
  const rest = text.replaceAll(/([\p{L}\p{N}]+)\.?/gu, (said, word: string) => {
    // Some are only abbreviations: "re." is the right one, "re" is not.
    const position = POSITION_OF.get(said.toLowerCase()) ?? POSITION_OF.get(word.toLowerCase());
    if (position === undefined) return said;
    if (!named.includes(position)) named.push(position);
    return " ";
  });
  return named.length === 0 ? null : { position: named.sort().join(" "), rest: rest.trim() };
}

/** Whether every word of a text is a position's. */
export function isPositionName(text: string): boolean {
  const found = positionOf(text);
  return found !== null && !/[\p{L}\p{N}]/u.test(found.rest);
}
