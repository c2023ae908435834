import { deflateSync, Inflate, strFromU8, strToU8 } from "fflate";

/** Raw deflate in both directions; a caller may plug in a faster one. */
export interface Codec {
  /** Bytes of a raw deflate stream that is said to hold `size` bytes; may throw or stop early when it holds more. */
  readonly inflate: (bytes: Uint8Array, size: number) => Uint8Array;
  readonly deflate: (bytes: Uint8Array) => Uint8Array;
  readonly crc32?: (bytes: Uint8Array) => number;
  /** Text of UTF-8 bytes, U+FFFD for what is none; a byte order mark may stay. */
  readonly decode?: (bytes: Uint8Array) => string;
  /** Writes a text as UTF-8 into bytes that have room for it, and says how many it took. */
  readonly encodeInto?: (text: string, bytes: Uint8Array) => number;
}

const SLICE = 1 << 16;

/** The codec that works everywhere. */
export const plainCodec: Codec = {
  inflate: inflateWithin,
  deflate: (bytes) => deflateSync(bytes, { level: 6 }),
};

/** Fed in slices, so that a stream holding more than it says is given up before it fills the memory. */
function inflateWithin(bytes: Uint8Array, size: number): Uint8Array {
  const out = new Uint8Array(size);
  let filled = 0;
  const stream = new Inflate((chunk) => {
    if (filled + chunk.length <= size) out.set(chunk, filled);
    filled += chunk.length;
  });
  for (let at = 0; at === 0 || (at < bytes.length && filled <= size); at += SLICE) {
    stream.push(bytes.subarray(at, at + SLICE), at + SLICE >= bytes.length);
  }
  if (filled !== size)
    throw new RangeError("the stream holds another number of bytes than it says");
  return out;
}

/** Four tables of 256 checksums each, for a byte followed by none to three zero bytes. */
const CRC_TABLE = crcTable();

function crcTable(): Int32Array {
  const table = new Int32Array(1024);
  for (let byte = 0; byte < 256; byte += 1) {
    let crc = byte;
    for (let bit = 0; bit < 8; bit += 1) crc = crc & 1 ? (crc >>> 1) ^ 0xedb88320 : crc >>> 1;
    table[byte] = crc;
  }
  for (let at = 256; at < 1024; at += 1) {
    const before = crcOf(table, at - 256);
    table[at] = (before >>> 8) ^ crcOf(table, before & 255);
  }
  return table;
}

function crcOf(table: Int32Array, at: number): number {
  return table[at] ?? 0;
}

/** The checksum zip archives use (CRC-32 of ISO 3309), four bytes a step. */
export function crc32(bytes: Uint8Array): number {
  const table = CRC_TABLE;
  const words = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let crc = -1;
  let at = 0;
  for (const last = bytes.length - 3; at < last; at += 4) {
    crc ^= words.getInt32(at, true);
    crc =
      crcOf(table, 768 + (crc & 255)) ^
      crcOf(table, 512 + ((crc >>> 8) & 255)) ^
      crcOf(table, 256 + ((crc >>> 16) & 255)) ^
      crcOf(table, crc >>> 24);
  }
  for (; at < bytes.length; at += 1) {
    crc = (crc >>> 8) ^ crcOf(table, (crc ^ (bytes[at] ?? 0)) & 255);
  }
  return (crc ^ -1) >>> 0;
}

/** UTF-8 bytes of a text. */
export function encode(text: string): Uint8Array {
  return strToU8(text);
}

/** Text of UTF-8 bytes. */
export function decode(bytes: Uint8Array): string {
  return strFromU8(bytes);
}

/** Whether two blocks hold the same bytes. */
export function sameBytes(one: Uint8Array, other: Uint8Array): boolean {
  if (one.length !== other.length) return false;
  for (let at = 0; at < one.length; at += 1) if (one[at] !== other[at]) return false;
  return true;
}
