import type { AddChart } from "../../book/workbook/plan.ts";
import { bookFolder, type Change, relationAttribute, sheetDraft } from "./change.ts";
import { chartXml, type DrawingSpaces } from "./chart-xml.ts";
import {
  addPart,
  addRelation,
  draftRelations,
  draftText,
  relationSpace,
  setPart,
  splicePart,
  XML_HEAD,
} from "../package/draft.ts";
import { escaped } from "../xml/escape.ts";
import { appendTo, outlineOf } from "../xml/outline.ts";
import { addElement, type SheetDraft } from "./sheet-draft.ts";
import { attribute } from "../xml/attributes.ts";
import { next, readXml } from "../xml/xml.ts";

const CHART_TYPE = "application/vnd.openxmlformats-officedocument.drawingml.chart+xml";
const DRAWING_TYPE = "application/vnd.openxmlformats-officedocument.drawing+xml";

function spacesOf(strict: boolean): DrawingSpaces {
  const root = strict
    ? "http://purl.oclc.org/ooxml/drawingml"
    : "http://schemas.openxmlformats.org/drawingml/2006";
  return {
    drawing: `${root}/spreadsheetDrawing`,
    main: `${root}/main`,
    chart: `${root}/chart`,
    relations: relationSpace(strict),
  };
}

/** Adds a native chart to a sheet. */
export function addChart(change: Change, edit: AddChart): void {
  const { draft, book } = change;
  const sheet = sheetDraft(change, edit.sheet);
  const spaces = spacesOf(book.strict);
  const folder = bookFolder(change);
  const drawing = drawingOf(change, sheet, spaces);
  if (edit.nth !== undefined && redraw(change, drawing, { edit, spaces, nth: edit.nth })) return;
  const chart = addPart(draft, `${folder}charts/chart#.xml`, CHART_TYPE, chartXml(edit, spaces));
  const relation = addRelation(draft, drawing, "chart", chart);
  const text = draftText(draft, drawing);
  const { root } = outlineOf(text, drawing, "wsDr");
  const number = largestShape(text, drawing) + 1;
  splicePart(draft, drawing, appendTo(text, root, anchorXml(edit, spaces, { relation, number })));
}

interface Redrawn {
  readonly edit: AddChart;
  readonly spaces: DrawingSpaces;
  readonly nth: number;
}

/** Where a chart is named in a drawing: its frame, its description, its link. */
const FRAME = /<(?:\w+:)?graphicFrame\b[^]*?<\/(?:\w+:)?graphicFrame>/g;
const DESCRIPTION = /(<(?:\w+:)?cNvPr\b[^>]*?\bdescr=")[^"]*/;
const LINK = /<(?:\w+:)?chart\b[^>]*?\b\w+:id="([^"]+)"/;

/** Draws a chart of ours anew where it stands; false where the drawing has none at that place. */
function redraw({ draft }: Change, drawing: string, { edit, spaces, nth }: Redrawn): boolean {
  const text = draftText(draft, drawing);
  const frames = [...text.matchAll(FRAME)].filter(([frame]) => LINK.test(frame));
  const frame = frames[nth];
  const link = LINK.exec(frame?.[0] ?? "")?.[1];
  const path = draftRelations(draft, drawing).find(({ id }) => id === link)?.target;
  if (frame === undefined || !path) return false;
  setPart(draft, path, XML_HEAD + chartXml(edit, spaces));
  const told = frame[0].replace(
    DESCRIPTION,
    (_, before: string) => `${before}${escaped(edit.description)}`,
  );
  splicePart(draft, drawing, [
    { start: frame.index, end: frame.index + frame[0].length, xml: told },
  ]);
  return true;
}

/** The sheet's drawing part, made when it has none. */
function drawingOf(change: Change, sheet: SheetDraft, spaces: DrawingSpaces): string {
  const { draft } = change;
  const placed = sheet.content.outline.children.some(({ name }) => name === "drawing");
  const known = draftRelations(draft, sheet.path).find(({ type }) => type === "drawing")?.target;
  if (known && (placed || sheet.added.has("drawing"))) return known;
  const empty = `<xdr:wsDr xmlns:xdr="${spaces.drawing}" xmlns:a="${spaces.main}"/>`;
  const path = addPart(draft, `${bookFolder(change)}drawings/drawing#.xml`, DRAWING_TYPE, empty);
  const relation = addRelation(draft, sheet.path, "drawing", path);
  const tag = `${sheet.content.outline.prefix}drawing`;
  addElement(sheet, "drawing", `<${tag} ${relationAttribute(change, relation)}/>`);
  return path;
}

function largestShape(text: string, path: string): number {
  const xml = readXml(text, path);
  let largest = 1;
  while (next(xml)) {
    if (xml.kind === "open" && xml.name === "cNvPr") {
      largest = Math.max(largest, Number(attribute(xml, "id")) || 0);
    }
  }
  return largest;
}

function anchorXml(
  edit: AddChart,
  spaces: DrawingSpaces,
  ids: { readonly relation: string; readonly number: number },
): string {
  const { firstColumn, firstRow, lastColumn, lastRow } = edit.at;
  const corner = (column: number, row: number): string =>
    `<xdr:col>${column}</xdr:col><xdr:colOff>0</xdr:colOff><xdr:row>${row}</xdr:row><xdr:rowOff>0</xdr:rowOff>`;
  return (
    `<xdr:twoCellAnchor xmlns:xdr="${spaces.drawing}" xmlns:a="${spaces.main}">` +
    `<xdr:from>${corner(firstColumn, firstRow)}</xdr:from><xdr:to>${corner(lastColumn + 1, lastRow + 1)}</xdr:to>` +
    '<xdr:graphicFrame macro=""><xdr:nvGraphicFramePr>' +
    `<xdr:cNvPr id="${ids.number}" name="Chart ${ids.number}" descr="${escaped(edit.description)}"/><xdr:cNvGraphicFramePr/>` +
    '</xdr:nvGraphicFramePr><xdr:xfrm><a:off x="0" y="0"/><a:ext cx="0" cy="0"/></xdr:xfrm>' +
    `<a:graphic><a:graphicData uri="${spaces.chart}"><c:chart xmlns:c="${spaces.chart}" xmlns:r="${spaces.relations}" r:id="${ids.relation}"/></a:graphicData></a:graphic>` +
    "</xdr:graphicFrame><xdr:clientData/></xdr:twoCellAnchor>"
  );
}
