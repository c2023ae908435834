/** How several sheets are chosen as registers: what is said names all of them, for it takes the place of what was. */
export function choosing(sheets: readonly string[]): string {
  const said = sheets.map((sheet) => `--match "register=${sheet}"`).join(" ");
  const rows = sheets.map((sheet, at) => `Register${at === 0 ? "" : ` ${at + 1}`} = ${sheet}`);
  return `${said}, or in Setup ${rows.length === 1 ? "a row" : "rows"} ${rows.join("; ")}`;
}
