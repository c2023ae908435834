/** Shapes of values that stand for a person. */
export type Shape =
  | "social security numbers"
  | "e-mail addresses"
  | "phone numbers"
  | "web addresses"
  | "network addresses"
  | "names of persons";

const HYPHEN = 45;
const LONGEST = 80;
/** Numbers that were never given out are no social security numbers. */
const SOCIAL_SECURITY = /^(?!000|666|9)\d{3}-(?!00)\d{2}-(?!0000)\d{4}$/;
const EMAIL = /^[^\s@]+@[^\s@]+\.[a-z]{2,}$/i;
const PHONE = /^(?:\+\d{1,3}[ .-]?)?(?:\(\d{2,5}\)|\d{2,5})(?:[ .-]?\d{2,4}){2,4}$/;
const SEPARATED = /^\+|[ ()-]|\..*\./;
const NETWORK =
  /^(?:25[0-5]|2[0-4]\d|1?\d?\d)(?:\.(?:25[0-5]|2[0-4]\d|1?\d?\d)){3}$|^(?=.*::|(?:[^:]*:){7})[0-9a-f:]{3,39}$/i;
const WEB = /^(?:https?:\/\/|www\.)\S+$/i;
const PERSON = /^\p{Lu}[\p{L}'’-]+, \p{Lu}[\p{L}'’.-]*(?: \p{Lu}[\p{L}.]*)?$/u;
const ISO_DATE = /^\d{4}-\d{2}-\d{2}$/;

const TICK = /^(?:y|n|x|yes|no|none|true|false|done|taken|missing|ja|nein|oui|non|s[ií])?$/i;

/** Whether a text only says whether there is something: it shows nobody. */
export function isTick(text: string): boolean {
  return TICK.test(text.trim());
}

/** The shape of a text, null for ordinary text. Cheap looks first: it runs over every text of a book. */
export function shapeOf(written: string): Shape | null {
  if (written.length < 7 || written.length > LONGEST) return null;
  const text = written.trim();
  if (text.includes("@")) return EMAIL.test(text) ? "e-mail addresses" : null;
  if (text.includes(", ")) return PERSON.test(text) ? "names of persons" : null;
  const first = text.charCodeAt(0);
  // A digit, a plus or an opening bracket.
  if ((first >= 48 && first <= 57) || first === 43 || first === 40) return numberShape(text);
  return text.includes(":") || text.startsWith("www.") ? addressShape(text) : null;
}

function addressShape(text: string): Shape | null {
  if (WEB.test(text)) return "web addresses";
  return NETWORK.test(text) ? "network addresses" : null;
}

function numberShape(text: string): Shape | null {
  if (ISO_DATE.test(text)) return null;
  if (text.charCodeAt(3) === HYPHEN && text.charCodeAt(6) === HYPHEN) {
    if (SOCIAL_SECURITY.test(text)) return "social security numbers";
  }
  if (NETWORK.test(text)) return "network addresses";
  if (text.length < 10 || text.length > 24 || !SEPARATED.test(text) || !PHONE.test(text))
    return null;
  let digits = 0;
  for (const letter of text) if (letter >= "0" && letter <= "9") digits += 1;
  return digits >= 10 && digits <= 15 ? "phone numbers" : null;
}
