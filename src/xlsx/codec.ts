import { deflateSync, Inflate, strFromU8, strToU8 } from "fflate";

/** Raw deflate in both directions; a caller may plug in a faster one. */
export interface Codec {
  /** Bytes of a raw deflate stream that is said to hold `size` bytes; may throw or stop early when it holds more. */
  readonly inflate: (bytes: Uint8Array, size: number) => Uint8Array;
  readonly deflate: (bytes: Uint8Array) => Uint8Array;
  readonly crc32?: (bytes: Uint8Array) => number;
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

const CRC_TABLES = crcTables();

function crcTables(): Int32Array[] {
  const first = Int32Array.from({ length: 256 }, (_, byte) => {
    let crc = byte;
    for (let bit = 0; bit < 8; bit += 1) crc = crc & 1 ? (crc >>> 1) ^ 0xedb88320 : crc >>> 1;
    return crc;
  });
  const tables = [first];
  for (let power = 1; power < 4; power += 1) {
    const before = tables[power - 1] ?? first;
    tables.push(before.map((crc) => (crc >>> 8) ^ (first[crc & 255] ?? 0)));
  }
  return tables;
}

/** The checksum zip archives use (CRC-32 of ISO 3309), four bytes a step. */
export function crc32(bytes: Uint8Array): number {
  const [one, two, three, four] = CRC_TABLES;
  if (!one || !two || !three || !four) return 0;
  let crc = -1;
  let at = 0;
  for (const last = bytes.length - 3; at < last; at += 4) {
    crc ^=
      (bytes[at] ?? 0) |
      ((bytes[at + 1] ?? 0) << 8) |
      ((bytes[at + 2] ?? 0) << 16) |
      ((bytes[at + 3] ?? 0) << 24);
    crc =
      (four[crc & 255] ?? 0) ^
      (three[(crc >>> 8) & 255] ?? 0) ^
      (two[(crc >>> 16) & 255] ?? 0) ^
      (one[crc >>> 24] ?? 0);
  }
  for (; at < bytes.length; at += 1) {
    crc = (crc >>> 8) ^ (one[(crc ^ (bytes[at] ?? 0)) & 255] ?? 0);
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
