/** Texts and quoted names of sheets, which stay as they are, or what stands between them. */
const QUOTED = /("(?:[^"]|"")*"|'(?:[^']|'')*')/;

function outsideQuotes(formula: string, change: (piece: string) => string): string {
  return formula
    .split(QUOTED)
    .map((piece, at) => (at % 2 === 1 ? piece : change(piece)))
    .join("");
}

/**
 * A formula as Excel may show what was written: an @ before a name, small numbers in full, a space behind
 * commas. Names of the workbook begin with Spare here.
 */
export function shownAnew(formula: string): string {
  return outsideQuotes(formula, (piece) =>
    piece
      .replaceAll(/(?<![@\w.!])(?=Spare\w+(?![\w(]))/g, "@")
      .replaceAll("1E-9", "0.000000001")
      .replaceAll(/,(?! )/g, ", "),
  );
}

/** The same formula as it was written, for what is typed in the other form says the same. */
export function asWritten(formula: string): string {
  return outsideQuotes(formula, (piece) =>
    piece.replaceAll("@", "").replaceAll("0.000000001", "1E-9").replaceAll(", ", ","),
  );
}

/** How a call of ours is shown that leads to no add-in; `before` is nothing or another workbook's number. */
export function shownLost(formula: string, before: string): string {
  return outsideQuotes(formula, (piece) =>
    piece.replaceAll(
      /(?<![\w.])SPARE\.([A-Z0-9.]+)(?=\()/g,
      (_, name: string) => `${before}_xldudf_SPARE_${name.replaceAll(".", "_")}`,
    ),
  );
}

/** Whether a formula calls functions of ours, or of an add-in that is not there. */
export function callsAddIn(formula: string): boolean {
  return /(?<![\w.])(?:SPARE\.|_xldudf_)\w+\(/.test(formula);
}
