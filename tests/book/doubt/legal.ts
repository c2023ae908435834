import { OUR_SHEETS } from "../../../src/book/sheets/our-sheets.ts";
import type { Choices } from "../../../src/book/workbook/plan.ts";
import type { CellValue } from "../../../src/book/workbook/snapshot.ts";
import type { Input } from "./inputs.ts";

/** What a true value of an input may be, said apart from the code that reads it. */
type Legal = (
  value: CellValue,
  about: { readonly input: Input; readonly today: number },
) => boolean;

const text: Legal = (value) => typeof value === "string" && value.trim() !== "";
const past: Legal = (value, { today }) =>
  typeof value === "number" && Number.isInteger(value) && value <= today && value > today - 7305;
const from =
  (least: number, most: number): Legal =>
  (value) =>
    typeof value === "number" && value >= least && value <= most;
const whole =
  (least: number, most: number): Legal =>
  (value, about) =>
    Number.isInteger(value) && from(least, most)(value, about);
const oneOf =
  (...words: readonly string[]): Legal =>
  (value) =>
    typeof value === "string" && words.includes(value.toLowerCase());
const orBlank =
  (legal: Legal): Legal =>
  (value, about) =>
    value === null || legal(value, about);

/** Setup as its texts describe each setting; blank is the default. */
const SETTINGS: Readonly<Record<string, Legal>> = {
  "Report date": (value) => typeof value === "number" && value > 36_000 && value < 73_000,
  "Notice days": whole(0, 3660),
  Weekend: (value) => whole(1, 7)(Number(value), NEVER) || whole(11, 17)(Number(value), NEVER),
  "Counts are": oneOf("sessions", "babies"),
  "Sessions per baby": from(1, 1000),
  "Zero counts are real": oneOf("yes", "no"),
  "Counts late after (months)": whole(0, 120),
  "Text dates read": oneOf("dmy", "mdy"),
  "Service level": from(0.5, 0.9999),
  "Spares kept": oneOf("site", "device", "programme"),
  "Days between orders": whole(0, 366),
  "Fiscal year starts in month": whole(1, 12),
  Currency: (value) => typeof value === "string" && /^[a-z]{3}$/i.test(value),
  "Price rise a year": from(-0.5, 1),
  "Budget level": from(0.5, 0.9999),
  "Freight an order": from(0, 1e9),
  "Births screened": from(0.01, 1),
};

const NEVER = { input: {} as Input, today: 0 };

const SHEETS: Readonly<Record<string, Legal>> = {
  "Equipment: Device": (value) => value === true || (typeof value === "string" && value !== ""),
  "Equipment: Site": text,
  "Equipment: Status": (value) => value === null || value === true || typeof value === "string",
  "Equipment: Commissioned": orBlank(
    (value, { today }) => typeof value === "number" && value <= today && value > today - 18_263,
  ),
  "Equipment: Average uses a month": from(0, 1e5),
  "Job log: Complete set": (value) =>
    value === null || value === true || oneOf("yes", "no")(value, NEVER),
  "Monthly sessions: Device": text,
  "Monthly sessions: Month": (value, { today }) =>
    typeof value === "number" && value > today - 7305 && value < today,
  "Monthly sessions: Sessions": whole(0, 1e5),
  "Monthly sessions: sessions of a month": whole(0, 1e5),
};

/** Whether a value could be the truth of that cell, as far as the cell alone can say. */
export function isLegal(input: Input, written: CellValue, today: number): boolean {
  const about = { input, today };
  const value = plain(written);
  const [sheet = "", ...rest] = input.name.split(": ");
  const heading = rest.join(": ");
  if (sheet === "Setup") return orBlank(SETTINGS[heading] ?? text)(value, about);
  const own = SHEETS[input.name];
  if (own !== undefined) return own(value, about);
  const layout = OUR_SHEETS.find(({ name }) => name === sheet);
  const column = layout?.columns.find((one) => one.heading === heading);
  if (column === undefined) return past(value, about);
  return orBlank(byChoices(column.choices))(value, about);
}

/** Spaces around a word and the sign of a zero say nothing. */
function plain(value: CellValue): CellValue {
  if (typeof value === "string") return value.replaceAll("\u200b", "").trim();
  return value === 0 ? 0 : value;
}

/** Dates of our sheets lie in this century, in either date system. */
const FIRST_OF_2000 = 36_526 - 1_462;
const LAST_OF_2099 = 73_050;

function byChoices(choices: Choices | undefined): Legal {
  if (choices === undefined) return text;
  if (choices.kind === "list") return oneOf(...choices.values);
  if (choices.kind === "listFrom") return text;
  if (choices.kind === "date") {
    return (value, { today }) =>
      typeof value === "number" &&
      value > FIRST_OF_2000 &&
      (choices.to === "TODAY()" ? value <= today : value < LAST_OF_2099);
  }
  const [least, most] = [Number(choices.from), Number(choices.to)];
  return choices.whole ? whole(least, most) : from(least, most);
}
