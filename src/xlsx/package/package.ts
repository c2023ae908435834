import { type Codec, decode } from "../file/codec.ts";
import { broken, WorkbookError } from "../file/errors.ts";
import { partText } from "../xml/escape.ts";
import type { Limits } from "../file/limits.ts";
import { attribute } from "../xml/attributes.ts";
import { eachChild, openRoot, readXml } from "../xml/xml.ts";
import { readZip, unpack } from "../file/read-zip.ts";
import type { Entry } from "../file/zip-form.ts";

/** The parts of a workbook file, found by their path without regard to case. */
export interface Package {
  readonly entries: readonly Entry[];
  /** The comment of the archive. */
  readonly comment: Uint8Array;
  readonly byKey: ReadonlyMap<string, Entry>;
  readonly codec: Codec;
  readonly limits: Limits;
}

/** A link from one part to another. */
export interface Relationship {
  readonly id: string;
  /** Last word of its type, such as worksheet. */
  readonly type: string;
  /** Path of the part it leads to; null when it leads out of the file. */
  readonly target: string | null;
}

/** The key a part is found by. */
export function partKey(path: string): string {
  return path.replaceAll("\\", "/").replace(/^\/+/, "").toLowerCase();
}

/** Opens the archive and refuses what must not be changed. */
export function openPackage(bytes: Uint8Array, codec: Codec, limits: Limits): Package {
  refuseOldForms(bytes);
  const { entries, comment } = readZip(bytes, limits);
  const byKey = new Map<string, Entry>();
  for (const entry of entries) {
    const key = partKey(entry.name);
    if (key.endsWith("/")) continue;
    if (byKey.has(key)) throw broken(entry.name, "it is there twice");
    if (key.startsWith("_xmlsignatures/")) {
      throw new WorkbookError(
        "This workbook is digitally signed and any change would break the signature: save an unsigned copy and use that.",
      );
    }
    byKey.set(key, entry);
  }
  if (byKey.has("xl/workbook.bin")) {
    throw new WorkbookError(
      "This is a binary workbook (.xlsb): open it in your spreadsheet program and save it as .xlsx.",
    );
  }
  if (byKey.has("mimetype") && byKey.has("content.xml")) {
    throw new WorkbookError(
      "This is an OpenDocument file: open it in your spreadsheet program and save it as .xlsx.",
    );
  }
  return { entries, comment, byKey, codec, limits };
}

const OLE = [0xd0, 0xcf, 0x11, 0xe0];
const ENCRYPTED_STREAM = Array.from("EncryptedPackage").join("\0");

function refuseOldForms(bytes: Uint8Array): void {
  if (!OLE.every((byte, at) => bytes[at] === byte)) return;
  // The directory of the container names its streams; it may lie anywhere in the file.
  const encrypted = latin(bytes).includes(ENCRYPTED_STREAM);
  throw new WorkbookError(
    encrypted
      ? "This workbook is encrypted, which some programs also do to a protected one they open without a password: in your spreadsheet program take off its protection and its password to open, save it again and use that."
      : "This is a workbook of the old .xls form: open it in your spreadsheet program and save it as .xlsx.",
  );
}

function latin(bytes: Uint8Array): string {
  // Bytes above 127 become replacement characters, which the name searched for does not hold.
  return decode(bytes.subarray(0, 1 << 24));
}

/** The bytes of a part and its name; the path must be there. */
export function partBytes(
  file: Package,
  path: string,
): { readonly name: string; readonly bytes: Uint8Array } {
  const entry = file.byKey.get(partKey(path));
  if (!entry) throw broken(path, "the part is missing");
  return { name: entry.name, bytes: unpack(entry, file.codec) };
}

/** The text of a part; the path must be there. */
export function readPart(file: Package, path: string): string {
  const { name, bytes } = partBytes(file, path);
  return partText(bytes, name, file.codec.decode);
}

/** Whether the file has that part. */
export function hasPart(file: Package, path: string): boolean {
  return file.byKey.has(partKey(path));
}

/** Path of the part that holds a part's relationships; the empty path stands for the file itself. */
export function relationsPath(path: string): string {
  const slash = path.lastIndexOf("/");
  return `${path.slice(0, slash + 1)}_rels/${path.slice(slash + 1)}.rels`;
}

/** The links written in the text of a relationships part. */
export function readRelations(text: string, source: string): Relationship[] {
  const xml = readXml(text, relationsPath(source));
  const relations: Relationship[] = [];
  openRoot(xml, "Relationships");
  eachChild(xml, () => {
    const id = attribute(xml, "Id");
    const target = attribute(xml, "Target");
    if (xml.name !== "Relationship" || id === null || target === null) return;
    const outside = attribute(xml, "TargetMode")?.toLowerCase() === "external";
    const type = attribute(xml, "Type") ?? "";
    relations.push({
      id,
      type: type.slice(type.lastIndexOf("/") + 1),
      target: outside ? null : resolve(source, target),
    });
  });
  return relations;
}

function resolve(source: string, target: string): string {
  const path = target.replaceAll("\\", "/");
  const steps = path.startsWith("/") ? [] : source.split("/").slice(0, -1);
  for (const step of path.split("/")) {
    if (step === "..") steps.pop();
    else if (step !== "" && step !== ".") steps.push(step);
  }
  return steps.join("/");
}

/** The links of a part of the file as it was opened. */
export function relationsOf(file: Package, source: string): Relationship[] {
  const path = relationsPath(source);
  return hasPart(file, path) ? readRelations(readPart(file, path), source) : [];
}

/** Keys of all parts that links of the file lead to, there or not. */
export function linkedIn(file: Package): ReadonlySet<string> {
  const keys = new Set<string>();
  for (const [key, { name }] of file.byKey) {
    const [, folder, source] = /^(.*\/)?_rels\/([^/]*)\.rels$/.exec(key) ?? [];
    if (source === undefined) continue;
    for (const { target } of legible(file, name, `${folder ?? ""}${source}`)) {
      if (target !== null) keys.add(partKey(target));
    }
  }
  return keys;
}

/** The links of a part nothing else asks for: one that cannot be read names nothing. */
function legible(file: Package, path: string, source: string): Relationship[] {
  try {
    return readRelations(readPart(file, path), source);
  } catch (error) {
    if (error instanceof WorkbookError) return [];
    throw error;
  }
}
