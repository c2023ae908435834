import { areaText } from "../../book/workbook/snapshot.ts";
import { areaOf } from "../read/areas.ts";
import { columnLayout, writeColumns } from "./columns.ts";
import {
  appendTo,
  attributeAt,
  childrenOf,
  type Place,
  positionOf,
  type Splice,
  withAttributes,
} from "../xml/outline.ts";
import { type SheetDraft, usedArea } from "./sheet-draft.ts";
import type { Codec } from "../file/codec.ts";
import { bytesOf, newSink, put } from "../file/sink.ts";
import type { Styles } from "../read/styles.ts";
import { spellingOf } from "./write-cell.ts";
import { writeRows } from "./write-rows.ts";

/** The children of a worksheet in the order the format prescribes. Source: ECMA-376 part 1, 18.3.1.99. */
const ORDER = (
  "sheetPr dimension sheetViews sheetFormatPr cols sheetData sheetCalcPr sheetProtection protectedRanges " +
  "scenarios autoFilter sortState dataConsolidate customSheetViews mergeCells phoneticPr conditionalFormatting " +
  "dataValidations hyperlinks printOptions pageMargins pageSetup headerFooter rowBreaks colBreaks " +
  "customProperties cellWatches ignoredErrors smartTags drawing legacyDrawing legacyDrawingHF drawingHF picture " +
  "oleObjects controls webPublishItems tableParts extLst"
).split(" ");

/** Elements that hold a counted list of what is added; others stand under the root themselves. */
const LISTS = new Set(["dataValidations", "tableParts"]);

const BYTES_A_CELL = 120;

/** What the sheets of a book are written with. */
interface Writing {
  readonly styles: Styles;
  readonly dynamic: number;
  readonly codec: Codec;
}

/** The bytes of a sheet with the draft's changes. */
export function writeSheet(draft: SheetDraft, { styles, dynamic, codec }: Writing): Uint8Array {
  const { text, content } = draft;
  const { outline } = content;
  const splices: RankedSplice[] = [...rootSplices(draft)];
  const layout = columnLayout(draft);
  if (draft.widths.size > 0) {
    const columns = columnSplice(draft, writeColumns(draft, layout));
    splices.push({ ...columns, rank: ORDER.indexOf("cols") });
  }
  const dimension = dimensionSplice(draft);
  if (dimension) splices.push({ ...dimension, rank: ORDER.indexOf("dimension") });
  let cells = 0;
  draft.writes.forEach((line) => (cells += line.length));
  const size = text.length + content.rows.bytes.length;
  const sink = newSink(size * 1.02 + cells * BYTES_A_CELL + 4096, codec);
  const data = outline.children.find(({ name }) => name === "sheetData");
  if (data) splices.push({ start: data.start, end: data.end, xml: "", rank: ORDER.length });
  let at = 0;
  for (const splice of splices.sort(byPlace)) {
    put(sink, text.slice(at, splice.start));
    if (data && splice.start === data.start && splice.end === data.end) {
      let nextShared = 0;
      for (const index of content.source.shared.keys())
        nextShared = Math.max(nextShared, index + 1);
      const spelling = spellingOf(outline.prefix, dynamic, nextShared);
      const columnStyle = (column: number): number =>
        layout.find(({ first, last }) => column >= first && column <= last)?.style ?? 0;
      writeRows({ draft, styles, spelling, columnStyle, sink }, data);
    } else put(sink, splice.xml);
    at = splice.end;
  }
  put(sink, text.slice(at));
  return bytesOf(sink);
}

/** A splice and the rank of its element: several new ones may belong before the same old one. */
type RankedSplice = Splice & { readonly rank: number };

function byPlace(a: RankedSplice, b: RankedSplice): number {
  return a.start - b.start || a.end - b.end || a.rank - b.rank;
}

function* rootSplices(draft: SheetDraft): Generator<RankedSplice> {
  const { text, content, path } = draft;
  const { outline } = content;
  const placed = (name: string): Place | undefined =>
    outline.children.find((child) => child.name === name);
  for (const [name, xml] of draft.replaced) {
    const place = placed(name);
    const at = place ? place.start : positionOf(outline, ORDER, name);
    yield { start: at, end: place ? place.end : at, xml, rank: ORDER.indexOf(name) };
  }
  for (const [rank, name] of ORDER.entries()) {
    const added = draft.added.get(name);
    if (!added) continue;
    const place = LISTS.has(name) ? placed(name) : undefined;
    if (place) {
      const count = String(childrenOf(text, place, path).length + added.length);
      const open = withAttributes(text, place, { count });
      for (const splice of appendTo(text, place, added.join(""), open)) yield { ...splice, rank };
      continue;
    }
    const at = positionOf(outline, ORDER, name);
    const tag = outline.prefix + name;
    const list = `<${tag} count="${added.length}">${added.join("")}</${tag}>`;
    yield { start: at, end: at, xml: LISTS.has(name) ? list : added.join(""), rank };
  }
}

function columnSplice(draft: SheetDraft, xml: string): Splice {
  const { outline } = draft.content;
  const place = outline.children.find(({ name }) => name === "cols");
  const at = place ? place.start : positionOf(outline, ORDER, "cols");
  return { start: at, end: place ? place.end : at, xml };
}

/** The used range a sheet states is widened by what is written. */
function dimensionSplice(draft: SheetDraft): Splice | null {
  const { text, content } = draft;
  const place = content.outline.children.find(({ name }) => name === "dimension");
  const written = usedArea(draft);
  if (!place || !written) return null;
  const stated = areaOf(attributeAt(text, place, "ref"));
  const empty = content.values.length === 0 && content.formats.length === 0;
  const area =
    stated && !empty
      ? {
          firstRow: Math.min(stated.firstRow, written.firstRow),
          firstColumn: Math.min(stated.firstColumn, written.firstColumn),
          lastRow: Math.max(stated.lastRow, written.lastRow),
          lastColumn: Math.max(stated.lastColumn, written.lastColumn),
        }
      : written;
  const tag = withAttributes(text, place, { ref: areaText(area) });
  return { start: place.start, end: place.openEnd, xml: tag };
}
