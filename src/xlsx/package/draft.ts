import { encode } from "../file/codec.ts";
import { WorkbookError } from "../file/errors.ts";
import { escaped } from "../xml/escape.ts";
import { appendTo, attributeAt, outlineOf, type Splice, spliced } from "../xml/outline.ts";
import { namedIn, RELATIONS_TYPE, TYPES, typing } from "./content-types.ts";
import {
  linkedIn,
  type Package,
  partKey,
  readPart,
  readRelations,
  type Relationship,
  relationsPath,
} from "./package.ts";
import type { Limits } from "../file/limits.ts";
import { newEntry, pack, replaceEntry, writeZip } from "../file/write-zip.ts";
import type { Entry } from "../file/zip-form.ts";

/** Changes to a package before they are written: whole texts or bytes by part. */
export interface Draft {
  readonly file: Package;
  readonly changed: Map<string, { readonly path: string; readonly content: string | Uint8Array }>;
  readonly removed: Set<string>;
  /** Keys of the parts the file's links lead to, there or not; null until a new name is looked for. */
  linked: ReadonlySet<string> | null;
  /** Links and types of a strict file carry other addresses. */
  readonly strict: boolean;
}

/** What every part of ours begins with. */
export const XML_HEAD = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n';
const PACKAGE_SPACE = "http://schemas.openxmlformats.org/package/2006";

/** A draft without changes. */
export function newDraft(file: Package, strict: boolean): Draft {
  return { file, changed: new Map(), removed: new Set(), linked: null, strict };
}

/** Address under which the workbook formats name their relationships. */
export function relationSpace(strict: boolean): string {
  return strict
    ? "http://purl.oclc.org/ooxml/officeDocument/relationships"
    : "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
}

/** Whether the draft holds the part. */
export function draftHas(draft: Draft, path: string): boolean {
  const key = partKey(path);
  return !draft.removed.has(key) && (draft.changed.has(key) || draft.file.byKey.has(key));
}

/** The text of a part as the draft has it. */
export function draftText(draft: Draft, path: string): string {
  const content = draft.changed.get(partKey(path))?.content;
  return typeof content === "string" ? content : readPart(draft.file, path);
}

/** Puts a part's new content into the draft. */
export function setPart(draft: Draft, path: string, content: string | Uint8Array): void {
  draft.changed.set(partKey(path), { path, content });
}

/** Changes a part by splices. */
export function splicePart(draft: Draft, path: string, splices: readonly Splice[]): void {
  setPart(draft, path, spliced(draftText(draft, path), splices));
}

/** Adds a part under a free path, numbered in a pattern such as xl/tables/table#.xml, and tells its type. */
export function addPart(draft: Draft, pattern: string, type: string, text: string): string {
  const path = freeName(draft, pattern);
  setPart(draft, path, XML_HEAD + text);
  giveType(draft, path, type);
  return path;
}

/**
 * The path of a pattern that is free, numbered where it says so. A path that only a type or a link names
 * is taken: a second type for it, or a link that was dead until now, would spoil the file.
 */
function freeName(draft: Draft, pattern: string): string {
  const typed = new Set(namedIn(draftText(draft, TYPES)));
  draft.linked ??= linkedIn(draft.file);
  const { linked, removed } = draft;
  const isFree = (path: string): boolean => {
    const key = partKey(path);
    const named = typed.has(key) || linked.has(key) || removed.has(key);
    return !named && !draftHas(draft, path) && !draftHas(draft, relationsPath(path));
  };
  const isNumbered = pattern.includes("#");
  if (!isNumbered && isFree(pattern)) return pattern;
  const numbered = isNumbered ? pattern : pattern.replace(/(\.\w+)$/, "#$1");
  for (let number = 1; ; number += 1) {
    const path = numbered.replace("#", String(number));
    if (isFree(path)) return path;
  }
}

function giveType(draft: Draft, path: string, type: string): void {
  const splices = typing(draftText(draft, TYPES), path, type);
  if (splices.length > 0) splicePart(draft, TYPES, splices);
}

/** Takes a part out, together with the link that leads to it and its type. */
export function removePart(draft: Draft, source: string, path: string): void {
  const key = partKey(path);
  draft.removed.add(key);
  dropRelations(draft, source, ({ target }) => target !== null && partKey(target) === key);
  dropChildren(draft, TYPES, { root: "Types", name: "PartName" }, (name) => partKey(name) === key);
}

function dropRelations(draft: Draft, source: string, drop: (one: Relationship) => boolean): void {
  const gone = new Set(
    draftRelations(draft, source)
      .filter(drop)
      .map(({ id }) => id),
  );
  if (gone.size === 0) return;
  const path = relationsPath(source);
  dropChildren(draft, path, { root: "Relationships", name: "Id" }, (id) => gone.has(id));
}

function dropChildren(
  draft: Draft,
  path: string,
  list: { readonly root: string; readonly name: string },
  drop: (value: string) => boolean,
): void {
  const text = draftText(draft, path);
  const gone = outlineOf(text, path, list.root).children.filter((child) => {
    const value = attributeAt(text, child, list.name);
    return value !== null && drop(value);
  });
  splicePart(
    draft,
    path,
    gone.map(({ start, end }) => ({ start, end, xml: "" })),
  );
}

/** The links of a part as the draft has them. */
export function draftRelations(draft: Draft, source: string): Relationship[] {
  const path = relationsPath(source);
  return draftHas(draft, path) ? readRelations(draftText(draft, path), source) : [];
}

/** Links a part to another and returns the link's identifier. */
export function addRelation(draft: Draft, source: string, type: string, target: string): string {
  const path = relationsPath(source);
  if (!draftHas(draft, path)) {
    setPart(draft, path, `${XML_HEAD}<Relationships xmlns="${PACKAGE_SPACE}/relationships"/>`);
  }
  const taken = new Set(draftRelations(draft, source).map(({ id }) => id.toLowerCase()));
  let number = taken.size + 1;
  while (taken.has(`rid${number}`)) number += 1;
  const text = draftText(draft, path);
  const { root, prefix } = outlineOf(text, path, "Relationships");
  const full = type.startsWith("http") ? type : `${relationSpace(draft.strict)}/${type}`;
  const xml = `<${prefix}Relationship Id="rId${number}" Type="${full}" Target="/${escaped(target)}"/>`;
  splicePart(draft, path, appendTo(text, root, xml));
  // Some books tell the type of each such part and have none for the ending.
  giveType(draft, path, RELATIONS_TYPE);
  return `rId${number}`;
}

/** Links a part to the only one of a kind it may have: a link of that kind that leads nowhere makes room. */
export function addOnlyRelation(draft: Draft, source: string, type: string, target: string): void {
  dropRelations(
    draft,
    source,
    (one) => one.type === type && one.target !== null && !draftHas(draft, one.target),
  );
  addRelation(draft, source, type, target);
}

/** The file with the changes made: entries that are not part of them go in byte by byte. */
export function writeDraft(draft: Draft): Uint8Array {
  const entries: Entry[] = [];
  const written = new Set<string>();
  for (const entry of draft.file.entries) {
    const key = partKey(entry.name);
    if (draft.removed.has(key)) continue;
    const change = draft.changed.get(key);
    entries.push(change ? replaceEntry(entry, packed(draft, key)) : entry);
    written.add(key);
  }
  for (const [key, { path }] of draft.changed) {
    if (!written.has(key)) entries.push(newEntry(path, packed(draft, key)));
  }
  return writeZip(entries, draft.file.comment);
}

/** Refuses a part of so many bytes that could not be opened again. */
export function checkRoom(path: string, size: number, { part }: Limits): void {
  if (size <= part) return;
  const [has, most] = [size, part].map((one) => Math.round(one / (1 << 20)));
  throw new WorkbookError(
    `Nothing was written: with this the part ${path} would have ${has} MB or more, and ${most} MB is the most that can be opened safely; split the workbook into smaller ones.`,
  );
}

/** Packs a changed part and lets its text go: a large sheet is not kept twice. */
function packed(draft: Draft, key: string): ReturnType<typeof pack> {
  const { path, content } = draft.changed.get(key) ?? { path: key, content: "" };
  draft.changed.set(key, { path, content: "" });
  const { codec, limits } = draft.file;
  const bytes = typeof content === "string" ? encode(content) : content;
  checkRoom(path, bytes.length, limits);
  return pack(bytes, codec);
}
