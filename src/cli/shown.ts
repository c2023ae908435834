/**
 * What a terminal would act on instead of showing: control characters, which begin its commands, signs
 * that turn the direction of what follows, and halves of characters. Source: CWE-150 and CWE-1007.
 */
const ACTED_ON =
  /[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u2028\u2029\u202a-\u202e\u2066-\u2069]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g;

/** Any sign that may be acted on; long results hold none but the ends of their lines. */
const ANY_BUT_LINES =
  /[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u2028-\u202e\u2066-\u2069\ud800-\udfff]/;

/** Any sign that may have to be changed, halves of characters by their range: most texts hold none. */
const ANY = /[\u0000-\u001f\u007f-\u009f\u2028-\u202e\u2066-\u2069\ud800-\udfff]/;

/** A text fit for a terminal: what it would act on stands there as \u001b, which JSON reads as the same. */
export function shown(text: string): string {
  if (!ANY_BUT_LINES.test(text)) return text;
  return text.replace(
    ACTED_ON,
    (found) => `\\u${found.charCodeAt(0).toString(16).padStart(4, "0")}`,
  );
}

/** The same as one line: a text with line breaks must not look like several. */
export function oneLine(text: string): string {
  if (!ANY.test(text)) return text;
  return shown(text.replace(/[\t\n\u000b\f\r\u0085\u2028\u2029]+/g, " "));
}

/** Lines for people, each one line. */
export function linesText(lines: readonly string[]): string {
  return lines.map((line) => `${oneLine(line)}\n`).join("");
}
