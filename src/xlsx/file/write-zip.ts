import { type Codec, crc32, encode } from "./codec.ts";
import {
  CENTRAL,
  CENTRAL_SIZE,
  DEFLATED,
  END,
  END_SIZE,
  LOCAL,
  LOCAL_SIZE,
  type Entry,
  type Packed,
  view,
} from "./zip-form.ts";

const SIZES_BEHIND = 8;
const UTF8_NAME = 0x800;
const VERSION = 20;
/** 1 January 1980, the first day an archive can name: the same plan gives the same bytes. */
const FIRST_DATE = 0x21;

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
