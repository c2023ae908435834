import { foreignPatientHeading, inEnglish } from "./patient-languages.ts";
import type { Shape } from "./patient-shapes.ts";

/** People a record may be about; babies and patients in the plural are counted, not named. */
const PERSONS = words("mother mum mom baby infant newborn neonate patient maternal");
/** People, and also things that belong to other things. */
const RELATIVES = words("parent guardian father family child");
const MANY = words("mothers babies infants newborns neonates patients parents children families");
/** What names a person whoever it is about. */
const NAMING = words(
  "name names surname surnames forename initials dob birthday address addresses phone telephone mobile email mrn record records mail",
);
/** What names a single person. */
const NUMBERING = words(
  "id identifier number no nr num code ref reference key age sex gender date weight",
);
const COUNTING = words(
  "count counts total totals screened month monthly per volume uses sessions average",
);

/** Words that must all stand in a heading, and what it then looks like. */
const PHRASES: readonly (readonly [string, string])[] = [
  ["date birth", "date of birth"],
  ["dob", "date of birth"],
  ["d o b", "date of birth"],
  ["birthdate", "date of birth"],
  ["birthday", "date of birth"],
  ["birth time", "date of birth"],
  ["birth weight", "a birth record"],
  ["birthweight", "a birth record"],
  ["gestational", "a birth record"],
  ["gestation", "a birth record"],
  ["apgar", "a birth record"],
  ["admission date", "dates of a stay"],
  ["discharge date", "dates of a stay"],
  ["date death", "dates of a person"],
  ["mrn", "medical record numbers"],
  ["medical record", "medical record numbers"],
  ["health record", "medical record numbers"],
  ["chart number", "medical record numbers"],
  ["chart no", "medical record numbers"],
  ["encounter", "medical record numbers"],
  ["nhs", "national health numbers"],
  ["chi number", "national health numbers"],
  ["ssn", "social security numbers"],
  ["social security", "social security numbers"],
  ["national insurance", "social security numbers"],
  ["insurance", "insurance numbers"],
  ["policy number", "insurance numbers"],
  ["policy no", "insurance numbers"],
  ["policy id", "insurance numbers"],
  ["policyholder", "insurance numbers"],
  ["health plan", "insurance numbers"],
  ["medicaid", "insurance numbers"],
  ["medicare", "insurance numbers"],
  ["beneficiary", "insurance numbers"],
  ["subscriber", "insurance numbers"],
  ["member id", "insurance numbers"],
  ["member number", "insurance numbers"],
  ["account number", "account numbers"],
  ["account no", "account numbers"],
  ["account holder", "account numbers"],
  ["birth certificate", "certificate numbers"],
  ["driver license", "licence numbers"],
  ["driver licence", "licence numbers"],
  ["drivers license", "licence numbers"],
  ["drivers licence", "licence numbers"],
  ["license plate", "vehicle numbers"],
  ["licence plate", "vehicle numbers"],
  ["vehicle", "vehicle numbers"],
  ["biometric", "biometric data"],
  ["biometrics", "biometric data"],
  ["fingerprint", "biometric data"],
  ["voiceprint", "biometric data"],
  ["photo", "photographs"],
  ["photos", "photographs"],
  ["photograph", "photographs"],
  ["ip address", "network addresses"],
];

/** Names and ways to reach somebody: ordinary for a supplier, a site or staff, a stop for anyone else. */
const CONTACTS: readonly (readonly [string, string])[] = [
  ["first name", "names of persons"],
  ["last name", "names of persons"],
  ["full name", "names of persons"],
  ["given name", "names of persons"],
  ["middle name", "names of persons"],
  ["maiden name", "names of persons"],
  ["family name", "names of persons"],
  ["surname", "names of persons"],
  ["forename", "names of persons"],
  ["phone", "phone numbers"],
  ["telephone", "phone numbers"],
  ["tel", "phone numbers"],
  ["mobile", "phone numbers"],
  ["cellphone", "phone numbers"],
  ["fax", "phone numbers"],
  ["email", "e-mail addresses"],
  ["e mail", "e-mail addresses"],
  ["address", "addresses"],
  ["home address", "addresses"],
  ["street", "addresses"],
  ["postcode", "addresses"],
  ["post code", "addresses"],
  ["postal code", "addresses"],
  ["zip", "addresses"],
  ["zipcode", "addresses"],
  ["url", "web addresses"],
  ["website", "web addresses"],
  ["web address", "web addresses"],
];

/** Organisations and staff: how to reach them is no patient data. */
const OUTSIDE = words(
  "supplier suppliers vendor vendors maker makers manufacturer mfr company distributor dealer service support helpdesk biomed biomedical engineering engineer technician site sites ward hospital clinic facility department dept nursery ship shipping delivery billing invoice purchasing purchase repair rep representative sales contract workshop office staff screener screeners lead manager coordinator user owner responsible team by who role cost budget ledger finance manual document instructions warranty custodian",
);
/** Things: what is said of them is no patient data. */
const THINGS = words(
  "device devices equipment asset assets machine serial part parts item items lot batch model type order po catalogue catalog gtin udi inventory description category product electrode cushion set damage cable battery network mac printer tag sku spare",
);
const SINGLE_SHEETS = words(
  "site sites supplier suppliers vendor vendors maker makers manufacturers company companies contact contacts staff team directory distributor distributors",
);

/** What a heading looks like when it belongs to a patient, or null. `contacts`: a list of suppliers, sites or staff. */
export function patientHeading(heading: string, contacts: boolean): string | null {
  const found = tokens(heading);
  if (found.size === 0 || found.size > 8) return null;
  const person = personal(found);
  if (person !== null) return person;
  const all = new Set([...found, ...inEnglish(heading)]);
  const outside = any(all, OUTSIDE) || any(all, THINGS);
  const foreign = foreignPatientHeading(heading, contacts || outside);
  if (foreign !== null) return foreign;
  if (outside) return null;
  return phraseIn(found, PHRASES) ?? (contacts ? null : phraseIn(found, CONTACTS));
}

/** What a list of things has as often as a list of persons: its neighbours tell which it is. */
const OF_THINGS = new Set(["photographs", "network addresses", "web addresses"]);
/** So many headings that speak of things make a list of them. */
const LIST_OF_THINGS = 2;

/** Whether the other headings of a sheet explain a column that looks like that: it is a list of things. */
export function neighboursExcuse(looksLike: string, headings: readonly string[]): boolean {
  if (!OF_THINGS.has(looksLike)) return false;
  const found = headings.map(tokens);
  if (found.some((one) => personal(one) !== null)) return false;
  return found.filter((one) => any(one, THINGS)).length >= LIST_OF_THINGS;
}

/** Whether the heading explains why values have that shape without being about patients. */
export function excuses(heading: string, shape: Shape, contacts: boolean): boolean {
  const own = tokens(heading);
  if (personal(own) !== null) return false;
  const found = new Set([...own, ...inEnglish(heading)]);
  const things = any(found, THINGS);
  if (shape === "social security numbers") return things;
  if (shape === "network addresses")
    return things || any(found, words("ip address version firmware software"));
  if (any(found, OUTSIDE)) return true;
  if (shape === "names of persons")
    return things || contacts || any(found, words("location place"));
  if (shape === "phone numbers") return contacts || things || any(found, NUMBERING);
  return contacts || (shape === "web addresses" && (things || any(found, words("link links"))));
}

/** Whether a sheet is a list of sites, suppliers or staff, where ways to reach them belong. */
export function allowsContacts(sheet: string, lines: readonly (readonly string[])[]): boolean {
  const headings = lines.flat().map(tokens);
  if (headings.some((found) => any(found, PERSONS) || any(found, MANY) || any(found, RELATIVES))) {
    return false;
  }
  const name = new Set([...tokens(sheet), ...inEnglish(sheet)]);
  if (any(name, PERSONS) || any(name, MANY)) return false;
  if (any(name, SINGLE_SHEETS)) return true;
  const first = tokens(lines.at(-1)?.find((text) => text !== "") ?? "");
  return any(first, SINGLE_SHEETS) && !headings.some((found) => any(found, THINGS));
}

function personal(found: ReadonlySet<string>): string | null {
  const one = any(found, PERSONS);
  const looksLike = "records of persons";
  if ((one || any(found, RELATIVES) || any(found, MANY)) && any(found, NAMING)) {
    return any(found, THINGS) ? null : looksLike;
  }
  if (!one) return null;
  if (found.size === 1) return found.has("maternal") ? null : looksLike;
  const numbered = any(found, NUMBERING) && !any(found, COUNTING) && !any(found, THINGS);
  return numbered ? looksLike : null;
}

function phraseIn(
  found: ReadonlySet<string>,
  phrases: readonly (readonly [string, string])[],
): string | null {
  const hit = phrases.find(([phrase]) => phrase.split(" ").every((word) => found.has(word)));
  return hit?.[1] ?? null;
}

function any(found: ReadonlySet<string>, of: ReadonlySet<string>): boolean {
  for (const word of found) if (of.has(word)) return true;
  return false;
}

function tokens(text: string): ReadonlySet<string> {
  const plain = text
    .replace(/([a-z])([A-Z])/g, "$1 $2")
    .toLowerCase()
    .replaceAll("#", " number ")
    .replaceAll(/['’]s?\b/g, "");
  return new Set(plain.split(/[^\p{L}\p{N}]+/u).filter((word) => word !== ""));
}

function words(list: string): ReadonlySet<string> {
  return new Set(list.split(" "));
}
