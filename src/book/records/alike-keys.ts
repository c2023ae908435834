/**
 * What identifiers have in common that differ only in spaces, hyphens, case or zeros before a number, as "AABR 6" and
 * "AABR-006". They may be one device: that is told, and they are never taken for one.
 */
export function alikeKey(key: string): string {
  return key
    .replaceAll(/(?<=\d)[\s\-–—_./]+(?=\d)/gu, "-")
    .replaceAll(/(?<!\d)[\s\-–—_./]+|[\s\-–—_./]+(?!\d)/gu, "")
    .replaceAll(/(?<!\d)0+(?=\d)/gu, "");
}

/** Letters that look like a digit, beside one. */
const LIKE_DIGIT = /(?<=\d)[oil]+|[oil]+(?=\d)/gu;

/**
 * What identifiers have in common that differ only in letters that look like digits (O and 0, I or l and 1) beside a
 * digit, as "HS-O13" and "HS-013"; told like the others that are alike.
 */
export function lookAlikeKey(key: string): string {
  const read = key.replaceAll(LIKE_DIGIT, (letters) =>
    letters.replaceAll("o", "0").replaceAll(/[il]/gu, "1"),
  );
  return alikeKey(read);
}

/** What an identifier begins with, up to a letter that looks like a digit and stands for one; null without one. */
export function letterForDigit(key: string): string | null {
  const at = key.search(LIKE_DIGIT);
  return at < 0 ? null : key.slice(0, at + 1);
}
