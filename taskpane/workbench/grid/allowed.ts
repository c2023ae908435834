/**
 * What somebody may do in the grid. The file stays the truth, and a file is never shifted or dressed
 * here: whatever is not on this list is refused with a sentence before it happens.
 */
const TYPING = [
  "set-range-values",
  "clear-selection-content",
  "auto-fill",
  "auto-clear-content",
  "refill",
  "copy-down",
  "copy-right",
  "copy-formula-only",
  "paste",
  "paste-by-short-key",
  "paste-value",
  "paste-formula",
  "optional-paste",
  "toggle-cell-checkbox",
  "numfmt.set.numfmt",
  "numfmt.set.percent",
  "numfmt.add.decimal.command",
  "numfmt.subtract.decimal.command",
];

/** Looking around: changes nothing that is kept. */
const LOOKING = [
  "copy",
  "select-all",
  "select-range",
  "expand-selection",
  "move-selection",
  "move-selection-enter-tab",
  "scroll-to-cell",
  "scroll-view",
  "scroll-view-reset",
  "set-scroll-relative",
  "set-worksheet-activate",
  "set-zoom-ratio",
  "change-zoom-ratio",
  "set-worksheet-col-width",
  "delta-column-width",
  "set-col-auto-width",
  "delta-row-height",
  "set-row-height",
  "set-row-is-auto-height",
  "set-worksheet-row-is-auto-height",
];

const TYPES = new Set(TYPING.map((name) => `sheet.command.${name}`));
const ALLOWED = new Set([...TYPING, ...LOOKING].map((name) => `sheet.command.${name}`));

/** Changes that move, remove or rename, whoever asks for them. */
const SHIFTS =
  /^sheet\.mutation\.(insert-|remove-|move-|reorder-|add-worksheet-merge|set-worksheet-(name|order|hidden)|copy-worksheet|set-(col|row)-(hidden|visible))/;

const MOVED =
  "Rows, columns and sheets stay where they are here, because other formulas and lists point to them. Insert, delete, sort or rename in your spreadsheet program.";
const DRESSED =
  "Formatting, rules and choices stay as the file has them: only values, formulas and number formats can be changed here.";

const OTHERWISE =
  "Use your spreadsheet program for this: here you can only type, paste and clear cells.";

const MOVES =
  /(insert|remove|delete|append|move|reorder|merge|hidden|hide|visible|show|name|order|cut|-sheet|split|table)/;
const LOOKS =
  /(bold|italic|underline|strike|stroke|font|color|border|align|wrap|rotation|style|theme|format-painter|paste-format|paste-besides|paste-col|clear-selection-(all|format)|conditional|alidation|gridlines|frozen|protection|permission|overline|script|custom-metadata)/;

/** Why a command of the grid is not carried out; null when it may be. `shut` names a protected sheet at hand. */
export function refusal(command: string, shut: string | null = null): string | null {
  if (shut !== null && TYPES.has(command)) {
    return `The sheet ${shut} is protected: unprotect it in your spreadsheet program to change it.`;
  }
  if (SHIFTS.test(command)) return MOVED;
  const ours = command.startsWith("sheet.command.") || command.startsWith("sheets.command.");
  if (!ours && !command.startsWith("data-validation.command.")) return null;
  if (ALLOWED.has(command)) return null;
  if (LOOKS.test(command)) return DRESSED;
  return MOVES.test(command) ? MOVED : OTHERWISE;
}
