import { BookError } from "../workbook/errors.ts";

/** The host's decoder: the text of bytes, or null where they are not of that encoding. */
export type Decode = (bytes: Uint8Array, encoding: string) => string | null;

/** A file's text, and how it was read. */
export interface ReadText {
  readonly text: string;
  readonly encoding: string;
  /** A word that would read otherwise in another encoding; null where nothing depends on it. */
  readonly example: string | null;
}

/** What a file begins with when it says its encoding itself. */
const MARKS: readonly (readonly [encoding: string, mark: readonly number[]])[] = [
  ["utf-8", [0xef, 0xbb, 0xbf]],
  ["utf-16le", [0xff, 0xfe]],
  ["utf-16be", [0xfe, 0xff]],
];
/** Encodings of one byte a letter, the commonest first. */
const SINGLE = ["windows-1252", "windows-1250", "iso-8859-2", "iso-8859-15"];
/** What no word has inside it: a sign between two letters, or a control character anywhere. */
const MISREAD = /\p{L}[\p{S}\p{N}¿¶¡§«»‚„…‹›†‡‰]\p{L}|[\u0080-\u009f]/u;
const FOREIGN_WORD = /[^\s"',;|]*[\u0080-\uffff][^\s"',;|]*/;
const SAMPLE = 4096;

/**
 * The text of a file whose encoding nobody says. Marks at its beginning, zero bytes of UTF-16 and valid
 * UTF-8 are certain; of the others the first is taken in which no word has a sign among its letters.
 *
 * @throws BookError if the bytes are of no such encoding, or not of the one that was said.
 */
export function readText(bytes: Uint8Array, decode: Decode, said: string | null = null): ReadText {
  if (said !== null) return { ...read(bytes, decode, said), example: null };
  const marked = MARKS.find(([, mark]) => mark.every((byte, at) => bytes[at] === byte));
  const certain = marked?.[0] ?? unmarked(bytes);
  if (certain !== null) return { ...read(bytes, decode, certain), example: null };
  const utf8 = decode(bytes, "utf-8");
  if (utf8 !== null) return { text: utf8, encoding: "utf-8", example: null };
  const texts = SINGLE.flatMap((encoding) => {
    const text = decode(bytes, encoding);
    return text === null ? [] : [{ text, encoding }];
  });
  const [first] = texts;
  if (first === undefined) throw new BookError("its letters are in no known encoding");
  const found = texts.find(({ text }) => !MISREAD.test(text)) ?? first;
  return { ...found, example: FOREIGN_WORD.exec(found.text)?.[0] ?? null };
}

function read(
  bytes: Uint8Array,
  decode: Decode,
  encoding: string,
): Pick<ReadText, "text" | "encoding"> {
  const text = decode(bytes, encoding);
  if (text === null) throw new BookError(`its bytes are not ${encoding}`);
  return { text: text.replace(/^\ufeff/, ""), encoding };
}

/** UTF-16 without a mark: plain letters have a zero byte in every second place. */
function unmarked(bytes: Uint8Array): string | null {
  const sample = bytes.subarray(0, SAMPLE);
  const zeros = [0, 0];
  sample.forEach((byte, at) => {
    if (byte === 0) zeros[at % 2] = (zeros[at % 2] ?? 0) + 1;
  });
  const [even = 0, odd = 0] = zeros;
  if (even + odd === 0) return null;
  if (odd * 4 > sample.length && even * 20 < odd) return "utf-16le";
  if (even * 4 > sample.length && odd * 20 < even) return "utf-16be";
  throw new BookError("it holds zero bytes, so it is no text");
}
