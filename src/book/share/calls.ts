/** Whether a formula as people read it calls a worksheet function of ours; texts in it do not count. */
export function callsUs(formula: string): boolean {
  return /(?<![\w.\\])SPARE\.[A-Z][A-Z0-9.]*\(/i.test(formula.replace(/"[^"]*"/g, '""'));
}
