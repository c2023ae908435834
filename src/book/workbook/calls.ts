/** Whether a formula as people read it calls a worksheet function of ours; texts in it do not count. */
export function callsUs(formula: string): boolean {
  return /(?<![\w.\\])SPARE\.[A-Z][A-Z0-9.]*\(/i.test(formula.replace(/"[^"]*"/g, '""'));
}

/** Texts, quoted names and brackets: nothing in them counts. The number of a workbook before a call of ours is none. */
const LITERAL = String.raw`"[^"]*"|'[^']*'|(?!\[\d+\]!_xldudf_spare_)\[(?:'.|[^\[\]'])*\]`;

const STORED_CALL = new RegExp(
  String.raw`${LITERAL}|(?:\[\d+\]!)?(?<![\w.])_xldudf_spare_(\w+)(?=\()`,
  "gi",
);

/**
 * A formula with our calls as people read them. Files hold them as _xldudf_SPARE_NAME(, and so does Excel
 * itself where it no longer leads them to the add-in, also with the number of another workbook before it.
 */
export function ourCallsShown(formula: string): string {
  if (!/_xldudf_spare_/i.test(formula)) return formula;
  return formula.replace(STORED_CALL, (found, ours: string | undefined) =>
    ours === undefined ? found : `SPARE.${ours.toUpperCase()}`,
  );
}
