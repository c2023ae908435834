import { type Codec, crc32, decode } from "./codec.ts";
import { broken, WorkbookError } from "./errors.ts";
import { type Limits, LIMITS } from "./limits.ts";
import {
  type Archive,
  type Entry,
  CENTRAL,
  CENTRAL_SIZE,
  DEFLATED,
  END,
  END_SIZE,
  LOCAL,
  LOCAL_SIZE,
  view,
} from "./zip-form.ts";

const LOCATOR_64 = 0x07064b50;
const STORED = 0;
const LARGEST_COMMENT = 0xffff;
const ENCRYPTED = 1;
const RATIO_FROM = 1 << 20;

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

function tooLarge(what: string, { remedy }: Limits): WorkbookError {
  return new WorkbookError(`${what} is too large to be opened safely: ${remedy}.`);
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
