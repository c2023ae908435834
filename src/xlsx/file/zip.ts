import { type Codec, crc32, decode, encode } from "./codec.ts";
import { broken, WorkbookError } from "./errors.ts";
import { type Limits, LIMITS } from "./limits.ts";

/** One entry of an archive, its headers and packed bytes exactly as they lie in the file. */
export interface Entry {
  readonly name: string;
  readonly method: number;
  readonly crc: number;
  readonly size: number;
  readonly packed: Uint8Array;
  readonly header: Uint8Array;
  readonly record: Uint8Array;
}

/** An archive taken apart. */
export interface Archive {
  /** In the order of its directory. */
  readonly entries: readonly Entry[];
  /** Bytes behind its end, which somebody put there. */
  readonly comment: Uint8Array;
}

/** What an entry is replaced by, packed already. */
export interface Packed {
  readonly crc: number;
  readonly size: number;
  readonly packed: Uint8Array;
}

const LOCAL = 0x04034b50;
const CENTRAL = 0x02014b50;
const END = 0x06054b50;
const LOCATOR_64 = 0x07064b50;
const STORED = 0;
const DEFLATED = 8;
const LOCAL_SIZE = 30;
const CENTRAL_SIZE = 46;
const END_SIZE = 22;
const LARGEST_COMMENT = 0xffff;
const ENCRYPTED = 1;
const SIZES_BEHIND = 8;
const UTF8_NAME = 0x800;
const VERSION = 20;
/** 1 January 1980, the first day an archive can name: the same plan gives the same bytes. */
const FIRST_DATE = 0x21;
const RATIO_FROM = 1 << 20;

function tooLarge(what: string, { remedy }: Limits): WorkbookError {
  return new WorkbookError(`${what} is too large to be opened safely: ${remedy}.`);
}

function view(bytes: Uint8Array): DataView {
  return new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
}

/** Refuses a file by its size, which can be known before it is read. */
export function checkFileSize(size: number, limits: Limits = LIMITS): void {
  if (size > limits.file) throw tooLarge("This file", limits);
}

/** Takes an archive apart. */
export function readZip(bytes: Uint8Array, limits: Limits): Archive {
  checkFileSize(bytes.length, limits);
  const data = view(bytes);
  const end = findEnd(bytes, data);
  const count = data.getUint16(end + 10, true);
  const size = data.getUint32(end + 12, true);
  const start = data.getUint32(end + 16, true);
  const is64 = count === 0xffff || size === 0xffffffff || start === 0xffffffff;
  if (is64 || (end >= 20 && data.getUint32(end - 20, true) === LOCATOR_64)) throw zip64();
  if (start + size > end) throw cutShort();
  if (count > limits.parts) throw tooLarge("This file", limits);
  const entries: Entry[] = [];
  const spans: [number, number][] = [];
  let at = start;
  for (let index = 0; index < count; index += 1) {
    if (at + CENTRAL_SIZE > end || data.getUint32(at, true) !== CENTRAL) throw cutShort();
    const length =
      CENTRAL_SIZE +
      data.getUint16(at + 28, true) +
      data.getUint16(at + 30, true) +
      data.getUint16(at + 32, true);
    if (at + length > end) throw cutShort();
    const [entry, from, to] = readEntry(bytes, bytes.subarray(at, at + length), start);
    entries.push(entry);
    spans.push([from, to]);
    at += length;
  }
  checkSpans(spans);
  checkSizes(entries, limits);
  const comment = bytes.subarray(end + END_SIZE, end + END_SIZE + data.getUint16(end + 20, true));
  return { entries, comment };
}

function findEnd(bytes: Uint8Array, data: DataView): number {
  const first = Math.max(0, bytes.length - END_SIZE - LARGEST_COMMENT);
  let last: number | null = null;
  for (let at = bytes.length - END_SIZE; at >= first; at -= 1) {
    if (data.getUint32(at, true) !== END) continue;
    // The end whose comment fills the file; a comment may hold what looks like an end.
    if (at + END_SIZE + data.getUint16(at + 20, true) === bytes.length) return at;
    last ??= at;
  }
  if (last !== null) return last;
  if (bytes.length >= 4 && data.getUint32(0, true) === LOCAL) throw cutShort();
  throw new WorkbookError(
    "This file is no .xlsx or .xlsm workbook: open it in your spreadsheet program and save it as .xlsx.",
  );
}

function readEntry(bytes: Uint8Array, record: Uint8Array, limit: number): [Entry, number, number] {
  const central = view(record);
  const data = view(bytes);
  const flags = central.getUint16(8, true);
  const packedSize = central.getUint32(20, true);
  const size = central.getUint32(24, true);
  const from = central.getUint32(42, true);
  if (packedSize === 0xffffffff || size === 0xffffffff || from === 0xffffffff) throw zip64();
  if (flags & ENCRYPTED) {
    throw new WorkbookError(
      "This file is an encrypted archive: remove its password and save it again.",
    );
  }
  if (from + LOCAL_SIZE > limit || data.getUint32(from, true) !== LOCAL) throw cutShort();
  const dataFrom =
    from + LOCAL_SIZE + data.getUint16(from + 26, true) + data.getUint16(from + 28, true);
  const to = dataFrom + packedSize;
  if (to > limit) throw cutShort();
  const nameLength = central.getUint16(28, true);
  const entry = {
    name: decode(record.subarray(CENTRAL_SIZE, CENTRAL_SIZE + nameLength)),
    method: central.getUint16(10, true),
    crc: central.getUint32(16, true),
    size,
    packed: bytes.subarray(dataFrom, to),
    header: bytes.subarray(from, dataFrom),
    record,
  };
  return [entry, from, to];
}

/** Entries that share bytes are a way to make a small file unpack to a huge one. */
function checkSpans(spans: [number, number][]): void {
  let reached = 0;
  for (const [from, to] of spans.sort((a, b) => a[0] - b[0])) {
    if (from < reached) throw broken("archive", "its entries overlap");
    reached = to;
  }
}

function checkSizes(entries: readonly Entry[], limits: Limits): void {
  let total = 0;
  for (const entry of entries) {
    total += entry.size;
    const bomb =
      entry.size > RATIO_FROM && entry.size > limits.ratio * Math.max(1, entry.packed.length);
    if (bomb || entry.size > limits.part || total > limits.total) {
      throw tooLarge(`This workbook (${entry.name})`, limits);
    }
  }
}

/** The unpacked bytes of an entry, checked against their checksum. */
export function unpack(entry: Entry, codec: Codec): Uint8Array {
  let bytes: Uint8Array | null = null;
  if (entry.method === STORED) bytes = entry.packed;
  else if (entry.method === DEFLATED) {
    try {
      bytes = codec.inflate(entry.packed, entry.size);
    } catch {
      throw broken(entry.name, "it cannot be unpacked");
    }
  }
  if (bytes?.length !== entry.size) throw broken(entry.name, "it cannot be unpacked");
  if ((codec.crc32 ?? crc32)(bytes) !== entry.crc)
    throw broken(entry.name, "its checksum is wrong");
  return bytes;
}

/** Bytes packed for an archive. */
export function pack(bytes: Uint8Array, codec: Codec): Packed {
  return { crc: (codec.crc32 ?? crc32)(bytes), size: bytes.length, packed: codec.deflate(bytes) };
}

/** A new entry of that name. */
export function newEntry(name: string, content: Packed): Entry {
  const text = encode(name);
  const header = new Uint8Array(LOCAL_SIZE + text.length);
  const record = new Uint8Array(CENTRAL_SIZE + text.length);
  header.set(text, LOCAL_SIZE);
  record.set(text, CENTRAL_SIZE);
  view(header).setUint32(0, LOCAL, true);
  view(header).setUint16(26, text.length, true);
  view(record).setUint32(0, CENTRAL, true);
  view(record).setUint16(4, VERSION, true);
  view(record).setUint16(28, text.length, true);
  const fields: [Uint8Array, number][] = [
    [header, 4],
    [record, 6],
  ];
  for (const [block, at] of fields) {
    view(block).setUint16(at, VERSION, true);
    view(block).setUint16(at + 2, UTF8_NAME, true);
    view(block).setUint16(at + 8, FIRST_DATE, true);
  }
  return replaceEntry({ name, method: DEFLATED, header, record, ...content }, content);
}

/** The same entry with other content. */
export function replaceEntry(entry: Entry, content: Packed): Entry {
  return { ...entry, ...content, method: DEFLATED };
}

/** An archive of these entries; the packed bytes of each go in as they are. */
export function writeZip(
  entries: readonly Entry[],
  comment: Uint8Array = new Uint8Array(),
): Uint8Array {
  let size = END_SIZE + comment.length;
  for (const { header, packed, record } of entries)
    size += header.length + packed.length + record.length;
  const bytes = new Uint8Array(size);
  const data = view(bytes);
  const starts: number[] = [];
  let at = 0;
  for (const entry of entries) {
    starts.push(at);
    bytes.set(entry.header, at);
    setFields(data, at + 6, entry);
    at += entry.header.length;
    bytes.set(entry.packed, at);
    at += entry.packed.length;
  }
  const directory = at;
  for (const [index, entry] of entries.entries()) {
    bytes.set(entry.record, at);
    setFields(data, at + 8, entry);
    data.setUint32(at + 42, starts[index] ?? 0, true);
    at += entry.record.length;
  }
  data.setUint32(at, END, true);
  data.setUint16(at + 8, entries.length, true);
  data.setUint16(at + 10, entries.length, true);
  data.setUint32(at + 12, at - directory, true);
  data.setUint32(at + 16, directory, true);
  data.setUint16(at + 20, comment.length, true);
  bytes.set(comment, at + END_SIZE);
  return bytes;
}

/** Flags, method, checksum and sizes lie in the same order in both headers; sizes never follow the data here. */
function setFields(data: DataView, at: number, entry: Entry): void {
  data.setUint16(at, data.getUint16(at, true) & ~SIZES_BEHIND, true);
  data.setUint16(at + 2, entry.method, true);
  data.setUint32(at + 8, entry.crc, true);
  data.setUint32(at + 12, entry.packed.length, true);
  data.setUint32(at + 16, entry.size, true);
}

function cutShort(): WorkbookError {
  return new WorkbookError(
    "This file is cut short or damaged: get a complete copy of the workbook and try with that.",
  );
}

function zip64(): WorkbookError {
  return new WorkbookError(
    "This workbook is packed in the zip64 form, which is not supported: open it in your spreadsheet program and save it again.",
  );
}
