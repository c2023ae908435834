import { decode, encode, sameBytes } from "../file/codec.ts";
import { broken } from "../file/errors.ts";

/** Characters an XML text cannot hold, which workbooks write as _xHHHH_. */
const UNWRITABLE =
  /[\u0000-\u0008\u000b-\u001f\ufffe\uffff]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]|_(?=x[0-9A-Fa-f]{4}_)/g;

/** A cell's text for an element: nothing is lost, a literal _x0041_ included. */
export function cellText(text: string): string {
  return marked(
    text.replace(
      UNWRITABLE,
      (found) => `_x${found.charCodeAt(0).toString(16).toUpperCase().padStart(4, "0")}_`,
    ),
  );
}

/** A cell's text as people see it. */
export function shownText(text: string): string {
  return text.includes("_x")
    ? text.replace(/_x([0-9A-Fa-f]{4})_/g, (_, code: string) =>
        String.fromCharCode(parseInt(code, 16)),
      )
    : text;
}

const SPECIAL = /[&<>"]/g;
const ENTITIES: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
};

function marked(text: string): string {
  return text.replace(SPECIAL, (found) => ENTITIES[found] ?? found);
}

/** Characters an XML text cannot hold at all. Source: XML 1.0, production 2. */
const NO_CHARACTER =
  /[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g;

/** Text for an element or attribute that is no cell: what XML cannot hold becomes the replacement character. */
export function escaped(text: string): string {
  return marked(text.replace(NO_CHARACTER, "\ufffd"));
}

/** Whether a reader would trim or fold the text unless told to keep it. */
export function keepsSpace(text: string): boolean {
  return /^\s|\s$|[\n\t]/.test(text);
}

/** The text of a part: UTF-8, or UTF-16 with a byte order mark; other encodings are refused, never guessed. */
export function partText(bytes: Uint8Array, part: string, decoder = decode): string {
  const mark = ((bytes[0] ?? 0) << 8) | (bytes[1] ?? 0);
  if (mark === 0xfffe || mark === 0x3c00) return utf16(bytes, 1, mark === 0xfffe ? 2 : 0);
  if (mark === 0xfeff || mark === 0x003c) return utf16(bytes, 0, mark === 0xfeff ? 2 : 0);
  return utf8(bytes, part, decoder);
}

function utf8(bytes: Uint8Array, part: string, decoder: typeof decode): string {
  const marked = decoder(bytes);
  const text = marked.startsWith("\ufeff") ? marked.slice(1) : marked;
  const declared = /^<\?xml[^>]*?encoding\s*=\s*["']([^"']+)["']/.exec(text)?.[1];
  if (declared && !/^(utf-?8|us-ascii|ascii)$/i.test(declared)) {
    throw broken(part, `its encoding ${declared} is not one workbooks use`);
  }
  if (
    text.includes("\ufffd") &&
    !sameBytes(encode(text), bytes.subarray(bytes[0] === 0xef && bytes[1] === 0xbb ? 3 : 0))
  ) {
    throw broken(part, "its text is not UTF-8");
  }
  return text;
}

const UNITS_A_STEP = 4096;

function utf16(bytes: Uint8Array, highAt: 0 | 1, from: number): string {
  const pieces: string[] = [];
  for (let at = from; at + 1 < bytes.length;) {
    const units: number[] = [];
    for (; units.length < UNITS_A_STEP && at + 1 < bytes.length; at += 2) {
      units.push(((bytes[at + highAt] ?? 0) << 8) | (bytes[at + 1 - highAt] ?? 0));
    }
    pieces.push(String.fromCharCode(...units));
  }
  return asUtf8(pieces.join(""));
}

/** A UTF-16 part is written back as UTF-8 and must say so. */
function asUtf8(text: string): string {
  return text.replace(/^(<\?xml[^>]*?encoding\s*=\s*["'])[^"']+/, "$1UTF-8");
}
