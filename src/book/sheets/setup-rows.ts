import { eachSetting, NO_CURRENCY, type SettingKey, type Settings } from "../records/settings.ts";
import type { CellValue, Snapshot } from "../workbook/snapshot.ts";
import { matchLabel, VERSION } from "./setup.ts";

/** What each setting does, as its row on Setup says. */
const SETTING_ABOUT: Readonly<Record<SettingKey, string>> = {
  reportDate: "The day as of which everything is judged. It never moves by itself: type a date.",
  noticeDays: "A due date within this many days after the report date is shown as Due soon.",
  weekend:
    "Code as in WORKDAY.INTL: 1 Saturday and Sunday, 7 Friday and Saturday, 11 Sunday only …",
  countsAre:
    "sessions (applications of the contacts) or babies; if blank, babies where the counts sheet mentions them.",
  rescreenFactor:
    "Converts babies into sessions, repeat screens included; used only when the counts are babies.",
  zeroCounts: "yes: a count of 0 is a month without use; no: it is skipped like a blank.",
  lateMonths:
    "Counts older than this no longer lengthen an interval: the shortest interval applies until newer counts arrive.",
  dayOrder: "dmy or mdy, for a column whose text dates fit both; if blank, you are asked.",
  serviceLevel: "Chance, such as 0.95, that the spares last until the next delivery.",
  spares: "site: a spare of every part at each site; device: one for each device; programme: one.",
  reviewDays: "How often the shelf is reviewed and an order can go out.",
  fiscalStart: "1 to 12; the first quarter of the budget begins with this month.",
  currency: `Three-letter ISO 4217 code; ${NO_CURRENCY} for no currency.`,
  priceRise: "Share, such as 0.03, by which prices rise on 1 January.",
  budgetLevel: "Chance, such as 0.8, that the upper figure of the budget is enough.",
  freight: "Cost of one delivery to one place.",
  coverage: "Share of births that are screened, such as 0.98; for a budget calculated from births.",
  positions:
    "Of several columns of dates of one part, such as left and right: each has its own interval, or the earliest counts for the part.",
};

const VERSION_ABOUT = "Layout of our sheets; do not change.";

/** Rows that remember where the user's sheets and columns are. */
const MATCH_ABOUT = "Remembered choice; change it to use something else.";

/** Rows of a new Setup sheet. */
export function setupRows(
  settings: Settings,
  { dateSystem }: Pick<Snapshot, "dateSystem">,
): CellValue[][] {
  return [
    ...eachSetting().map(([key, { label, cell }]) => [
      label,
      cell(settings[key], dateSystem),
      SETTING_ABOUT[key],
    ]),
    [VERSION.label, VERSION.value, VERSION_ABOUT],
    ...[...settings.matches].map(([key, value]) => matchRow(key, value)),
  ];
}

/** A new row for a remembered choice. */
export function matchRow(key: string, value: string): CellValue[] {
  return [matchLabel(key), value, MATCH_ABOUT];
}
