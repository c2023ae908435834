import { posix } from "node:path";
import { columnOf } from "../../../src/book/workbook/snapshot.ts";
import { strFromU8, unzipSync } from "fflate";

/**
 * What every spreadsheet program asks of a workbook file, checked with nothing of the file engine:
 * content types, relationships, ranges of indices, counts, order and uniqueness. For parts a plan
 * writes; patterns are enough here because the tests know how those are spelt.
 */
export type Parts = ReadonlyMap<string, Uint8Array>;

/** The parts of a file by their name in the archive. */
export function partsOf(bytes: Uint8Array): Parts {
  return new Map(Object.entries(unzipSync(bytes)));
}

const clean = (name: string): string => name.replaceAll("\\", "/").toLowerCase();

function text(bytes: Uint8Array): string {
  const wide = bytes[0] === 0xff && bytes[1] === 0xfe;
  return wide ? new TextDecoder("utf-16le").decode(bytes) : strFromU8(bytes);
}

function all(source: string, tag: string): string[] {
  return source.match(new RegExp(`<(?:\\w+:)?${tag}(?=[\\s/>])[^>]*>`, "g")) ?? [];
}

function value(tag: string, name: string): string | null {
  return new RegExp(`\\s${name}="([^"]*)"`).exec(tag)?.[1] ?? null;
}

/** What is wrong with a file, a line each. */
export function faults(bytes: Uint8Array): string[] {
  const parts = new Map([...partsOf(bytes)].map(([name, content]) => [clean(name), text(content)]));
  const types = parts.get("[content_types].xml") ?? "";
  return [
    ...typeFaults(parts, types),
    ...relationFaults(parts),
    ...bookFaults(parts),
    ...sheetFaults(parts),
  ];
}

function typeFaults(parts: ReadonlyMap<string, string>, types: string): string[] {
  const overrides = all(types, "Override").map((tag) =>
    clean(value(tag, "PartName") ?? "").slice(1),
  );
  const defaults = new Set(
    all(types, "Default").map((tag) => clean(value(tag, "Extension") ?? "")),
  );
  const untyped = [...parts.keys()].filter(
    (name) =>
      name !== "[content_types].xml" &&
      !overrides.includes(name) &&
      !defaults.has(name.slice(name.lastIndexOf(".") + 1)),
  );
  return [
    ...untyped.map((name) => `no content type for ${name}`),
    ...overrides.filter((name) => !parts.has(name)).map((name) => `a type for ${name}, not there`),
    ...repeated(overrides).map((name) => `two types for ${name}`),
  ];
}

function relationFaults(parts: ReadonlyMap<string, string>): string[] {
  const reached = new Set<string>();
  const found = [...parts].flatMap(([name, content]) =>
    name.endsWith(".rels") ? linkFaults(parts, { name, content }, reached) : [],
  );
  for (const name of parts.keys()) {
    const counted = !name.endsWith(".rels") && name !== "[content_types].xml";
    if (counted && !reached.has(name)) found.push(`nothing leads to ${name}`);
  }
  return found;
}

function linkFaults(
  parts: ReadonlyMap<string, string>,
  { name, content }: { readonly name: string; readonly content: string },
  reached: Set<string>,
): string[] {
  const source = posix.join(posix.dirname(name), "..", posix.basename(name, ".rels"));
  const relations = all(content, "Relationship");
  const ids = relations.map((tag) => value(tag, "Id") ?? "");
  const found = repeated(ids).map((id) => `two relationships ${id} in ${name}`);
  if (name !== "_rels/.rels" && !parts.has(source)) found.push(`links of ${source}, not there`);
  for (const tag of relations.filter((one) => value(one, "TargetMode") !== "External")) {
    const target = clean(value(tag, "Target") ?? "");
    const path = target.startsWith("/")
      ? target.slice(1)
      : posix.join(posix.dirname(source), target);
    reached.add(path);
    if (!parts.has(path)) found.push(`${name} leads to ${path}, not there`);
  }
  for (const [, id] of (parts.get(source) ?? "").matchAll(/\sr:(?:id|embed|pict)="([^"]+)"/g)) {
    if (!ids.includes(id ?? "")) found.push(`${source} uses ${id ?? ""}, not there`);
  }
  return found;
}

function bookFaults(parts: ReadonlyMap<string, string>): string[] {
  const book = parts.get("xl/workbook.xml") ?? "";
  const sheets = all(book, "sheet");
  const tables = [...parts].filter(([name]) => /\/tables\/[^/]+\.xml$/.test(name));
  const roots = tables.map(([, content]) => all(content, "table")[0] ?? "");
  const names = all(book, "definedName");
  const lower = (tags: readonly string[], name: string): string[] =>
    tags.map((tag) => (value(tag, name) ?? "").toLowerCase());
  const scoped = names.map(
    (tag) => `${value(tag, "name") ?? ""}|${value(tag, "localSheetId") ?? ""}`,
  );
  const twice = [
    ...repeated(lower(sheets, "name")),
    ...repeated(lower(sheets, "sheetId")),
    ...repeated(lower(roots, "id")),
    ...repeated([
      ...lower(roots, "displayName"),
      ...lower(
        names.filter((tag) => !tag.includes("localSheetId")),
        "name",
      ),
    ]),
    ...repeated(scoped.map((name) => name.toLowerCase())),
  ].map((name) => `twice in the book: ${name}`);
  const counts = tables.flatMap(([name, content]) => countFaults(name, content));
  const styles = parts.get(named(parts, "styles")) ?? "";
  return [...twice, ...counts, ...countFaults("styles", styles)];
}

/** The part of a kind, under its usual name or a numbered one. */
function named(parts: ReadonlyMap<string, string>, kind: string): string {
  const name = new RegExp(`^xl/${kind}\\d*\\.xml$`);
  return [...parts.keys()].find((part) => name.test(part)) ?? "";
}

const COUNTED = {
  tableColumns: "tableColumn",
  cellXfs: "xf",
  fonts: "font",
  fills: "fill",
  borders: "border",
  numFmts: "numFmt",
  dxfs: "dxf",
  dataValidations: "dataValidation",
  tableParts: "tablePart",
} as const;

function countFaults(name: string, content: string): string[] {
  return Object.entries(COUNTED).flatMap(([list, item]) => {
    const block = inside(content, list);
    if (block === null) return [];
    const stated = value(block.tag, "count");
    const held = all(oneBranch(block.content), item).length;
    return stated === null || Number(stated) === held
      ? []
      : [`${name}: ${list} says ${stated}, holds ${held}`];
  });
}

/** Of alternate content only what stands for all readers counts. */
function oneBranch(content: string): string {
  return content.replaceAll(/<((?:\w+:)?Choice)\b[^]*?<\/\1>/g, "");
}

function inside(source: string, tag: string): { tag: string; content: string } | null {
  const match = new RegExp(
    `(<((?:\\w+:)?${tag})(?=[\\s>])[^>]*[^/]>|<((?:\\w+:)?${tag})>)([\\s\\S]*?)</(?:\\2|\\3)>`,
  ).exec(source);
  return match ? { tag: match[1] ?? "", content: match[4] ?? "" } : null;
}

function sheetFaults(parts: ReadonlyMap<string, string>): string[] {
  const held = (part: string, list: string, item: string): number =>
    all(oneBranch(inside(parts.get(part) ?? "", list)?.content ?? ""), item).length;
  const styles = named(parts, "styles");
  const metadata = named(parts, "metadata");
  const limits = {
    s: Math.max(1, held(styles, "cellXfs", "xf")),
    dxfId: held(styles, "dxfs", "dxf"),
    cm: held(metadata, "cellMetadata", "bk") + 1,
  };
  return [...parts].flatMap(([name, content]) => {
    if (!/\/worksheets\/[^/]+\.xml$/.test(name)) return [];
    const tags = ["c", "row", "cfRule"].flatMap((tag) => all(content, tag));
    const beyond = Object.entries(limits).flatMap(([attribute, limit]) =>
      tags.filter((tag) => Number(value(tag, attribute) ?? -1) >= limit),
    );
    const priorities = all(content, "cfRule").map((tag) => value(tag, "priority") ?? "");
    return [
      ...countFaults(name, content),
      ...orderFaults(name, content),
      ...beyond.map((tag) => `${name}: ${tag} points to nothing`),
      ...repeated(priorities).map((priority) => `${name}: two rules of priority ${priority}`),
    ];
  });
}

/** Rows and cells ascend; children of the sheet stand in the order the format prescribes (ECMA-376, 18.3.1.99). */
function orderFaults(name: string, content: string): string[] {
  const found: string[] = [];
  const rows = all(content, "row").map((tag) => Number(value(tag, "r") ?? NaN));
  const cells = all(content, "c").map((tag) => value(tag, "r"));
  let before = 0;
  for (const row of rows) {
    if (row <= before) found.push(`${name}: row ${row} after row ${before}`);
    before = row;
  }
  let last = 0;
  for (const cell of cells) {
    const match = /^([A-Z]+)(\d+)$/.exec(cell ?? "");
    if (!match) continue;
    const column = columnOf(match[1] ?? "") + 1;
    const place = Number(match[2]) * 20000 + column;
    if (place <= last) found.push(`${name}: cell ${cell ?? ""} out of order`);
    last = place;
  }
  const order =
    "sheetPr dimension sheetViews sheetFormatPr cols sheetData sheetProtection autoFilter mergeCells conditionalFormatting dataValidations hyperlinks printOptions pageMargins pageSetup headerFooter drawing legacyDrawing legacyDrawingHF tableParts".split(
      " ",
    );
  const places = order
    .map((tag) => content.search(new RegExp(`<(?:\\w+:)?${tag}[\\s/>]`)))
    .filter((at) => at >= 0);
  if (places.some((at, index) => at < (places[index - 1] ?? 0)))
    found.push(`${name}: children out of order`);
  return found;
}

function repeated(words: readonly string[]): string[] {
  return words.filter((word, index) => words.indexOf(word) !== index);
}
