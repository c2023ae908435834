import { digitsEnd, whole } from "./plain-cell.ts";

const POINT = 46;
/** Digits that a number holds exactly, and as many powers of ten. */
const EXACT_DIGITS = 15;

/** The number that is written there in plain digits, such as 46010 or 12.5; null for any other spelling. */
export function plainNumber(bytes: Uint8Array, from: number, to: number): number | null {
  const end = digitsEnd(bytes, from);
  if (end === to) return whole(bytes, from, to);
  if (end < 0 || bytes[end] !== POINT || to - from > EXACT_DIGITS) return null;
  if (digitsEnd(bytes, end + 1) !== to) return null;
  const places = to - end - 1;
  // Both are exact, so that their quotient is the number nearest to what is written, as any reader takes it.
  return (whole(bytes, from, end) * 10 ** places + whole(bytes, end + 1, to)) / 10 ** places;
}

const SLOTS = 4096;
const LONGEST = 64;

/** The texts of a sheet by where they stand: most cells of a column hold one of few, which is made once. */
export function repeatedTexts(
  bytes: Uint8Array,
  read: (from: number, to: number) => string,
): (from: number, to: number) => string {
  const places = new Int32Array(SLOTS).fill(-1);
  const texts: string[] = [];
  const sizes = new Uint8Array(SLOTS);
  return (from, to) => {
    const size = to - from;
    if (size > LONGEST) return read(from, to);
    let mixed = size;
    for (let at = from; at < to; at += 1) mixed = (Math.imul(mixed, 31) + (bytes[at] ?? 0)) | 0;
    const slot = (mixed ^ (mixed >>> 15)) & (SLOTS - 1);
    const known = places[slot] ?? -1;
    if (known >= 0 && sizes[slot] === size && isSame(bytes, known, from, size)) {
      return texts[slot] ?? "";
    }
    places[slot] = from;
    sizes[slot] = size;
    return (texts[slot] = read(from, to));
  };
}

function isSame(bytes: Uint8Array, one: number, other: number, size: number): boolean {
  for (let at = 0; at < size; at += 1) if (bytes[one + at] !== bytes[other + at]) return false;
  return true;
}
