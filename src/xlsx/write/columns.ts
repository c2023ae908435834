import { MOST_COLUMNS } from "../file/limits.ts";
import { childrenOf, openingTag, type Place, withAttributes } from "../xml/outline.ts";
import type { SheetDraft } from "./sheet-draft.ts";
import { numberOf } from "../xml/attributes.ts";

/** A run of columns that look alike; columns count from zero. */
export interface ColumnRun {
  readonly first: number;
  readonly last: number;
  readonly style: number;
  readonly place: Place;
}

/** The runs a sheet lays out. */
export function columnLayout(draft: SheetDraft): ColumnRun[] {
  const { text, content, path } = draft;
  const cols = content.outline.children.find(({ name }) => name === "cols");
  if (!cols) return [];
  return childrenOf(text, cols, path).map((place) => {
    const tag = openingTag(text, place);
    const first = (numberOf(tag, "min") ?? 1) - 1;
    const last = Math.min(numberOf(tag, "max") ?? 1, MOST_COLUMNS) - 1;
    return { first, last, style: numberOf(tag, "style") ?? 0, place };
  });
}

/** Excel adds this much to a width in characters for the edges of a cell in its default font. */
const EDGES = 0.7109375;

/** The cols element with the draft's widths; runs around a new width are cut, never changed. */
export function writeColumns(draft: SheetDraft, layout: readonly ColumnRun[]): string {
  const { text, content } = draft;
  const p = content.outline.prefix;
  const widths = [...draft.widths].sort((a, b) => a[0] - b[0]);
  const pieces: { readonly first: number; readonly xml: string }[] = [];
  for (const run of layout) {
    let from = run.first;
    const part = (last: number): void => {
      if (last < from) return;
      const whole = from === run.first && last === run.last;
      const xml = whole
        ? text.slice(run.place.start, run.place.end)
        : withAttributes(text, run.place, { min: String(from + 1), max: String(last + 1) });
      pieces.push({ first: from, xml: whole || run.place.empty ? xml : `${xml}</${p}col>` });
    };
    for (const [column] of widths) {
      if (column < run.first || column > run.last) continue;
      part(column - 1);
      from = column + 1;
    }
    part(run.last);
  }
  for (const [column, width] of widths) {
    const style = layout.find(({ first, last }) => column >= first && column <= last)?.style ?? 0;
    const look = style > 0 ? ` style="${style}"` : "";
    const sight = draft.hiddenColumns.has(column) ? ' hidden="1"' : "";
    const size = Math.round((width + EDGES) * 1e6) / 1e6;
    pieces.push({
      first: column,
      xml: `<${p}col min="${column + 1}" max="${column + 1}" width="${size}"${look}${sight} customWidth="1"/>`,
    });
  }
  pieces.sort((a, b) => a.first - b.first);
  return `<${p}cols>${pieces.map(({ xml }) => xml).join("")}</${p}cols>`;
}
