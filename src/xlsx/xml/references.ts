const PREDEFINED = new Map([
  ["amp", "&"],
  ["lt", "<"],
  ["gt", ">"],
  ["quot", '"'],
  ["apos", "'"],
]);

/** The character a reference such as amp or #x41 stands for; null when workbooks never need it. */
export function character(reference: string): string | null {
  if (!reference.startsWith("#")) return PREDEFINED.get(reference) ?? null;
  const hex = /^#x([0-9a-fA-F]{1,6})$/.exec(reference);
  const decimal = /^#([0-9]{1,7})$/.exec(reference);
  const code = hex ? parseInt(hex[1] ?? "", 16) : decimal ? parseInt(decimal[1] ?? "", 10) : 0;
  return code === 0 || code > 0x10ffff || (code >= 0xd800 && code < 0xe000)
    ? null
    : String.fromCodePoint(code);
}

/** Raw text with its references replaced and its line ends made one. */
export function plain(raw: string): string {
  const lines = raw.includes("\r") ? raw.replace(/\r\n?/g, "\n") : raw;
  if (!lines.includes("&")) return lines;
  return lines.replace(/&([^;&]{1,10});/g, (all, name: string) => character(name) ?? all);
}

/** A text, and what its letters say where it has one for each byte. */
interface Spelt {
  readonly text: string;
  readonly decode: ((letters: string) => string) | null;
}

/** What stands from there to there, as it is written. */
export function said({ text, decode }: Spelt, from: number, to: number): string {
  const letters = text.slice(from, to);
  return decode === null ? letters : decode(letters);
}
