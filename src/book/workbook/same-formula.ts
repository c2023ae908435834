/** Texts in double quotes and sheet names in single ones: nothing in them is rendered anew. */
const QUOTED = /("(?:[^"]|"")*"|'(?:[^']|'')*')/;

/** A number as formulas write it, not a part of a name or of a cell. */
const NUMBER = /(?<![\p{L}\p{N}_.$])\d+(?:\.\d+)?(?:E[+-]?\d+)?(?![\p{L}\p{N}_(:])/giu;

/**
 * Whether two formulas are the same but for how a program renders them: Excel may show @ before a name, write
 * a small number in full, or a function in capitals.
 *
 * @param one A formula without its =; null for none.
 * @param other Another one.
 * @returns Whether they say the same.
 */
export function sameFormula(one: string | null, other: string | null): boolean {
  if (one === other) return true;
  return one !== null && other !== null && plain(one) === plain(other);
}

function plain(formula: string): string {
  return formula
    .split(QUOTED)
    .map((piece, at) => (at % 2 === 1 ? piece : rendered(piece)))
    .join("");
}

function rendered(piece: string): string {
  return (
    piece
      .replaceAll(/[@\s]/g, "")
      // The same sign in a file.
      .replaceAll(/_xlfn\.single\(([^()]*)\)/gi, "$1")
      .replaceAll(NUMBER, (number) => String(Number(number)))
      .toUpperCase()
  );
}
