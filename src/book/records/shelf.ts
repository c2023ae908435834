import { addMonths, type Day, isoText } from "../../core/day.ts";
import { keyOf } from "../workbook/cells.ts";
import { partNamed } from "./parts.ts";
import { unitsTaken } from "./positions.ts";
import type { ProblemKind } from "./problem-kinds.ts";
import type { Device, Ours, Part, ShelfItem } from "./records.ts";
import { siteOf } from "./site-names.ts";

/** Why something of a row of the Shelf does not count. */
export interface ShelfDoubt {
  readonly kind: ProblemKind;
  readonly field: keyof ShelfItem;
  /** What is not counted, and why; then what to do. */
  readonly cause: string;
  readonly fix: string;
}

/** A row of the Shelf and what of it counts: never more than what is certain. */
export interface Shelved {
  readonly item: ShelfItem;
  readonly part: Part;
  /** Code of the site; "" is the programme's own store. */
  readonly site: string;
  /** Units to be used, and the last day on which they can be; null where there is none. */
  readonly onHand: number;
  readonly expiry: Day | null;
  /** Units past their expiry on the report date. */
  readonly expired: number;
  /** What will come, and when. */
  readonly receipt: Receipt | null;
  readonly doubts: readonly ShelfDoubt[];
}

/** Units on order that count from the day they are expected. */
export interface Receipt {
  readonly on: Day;
  readonly units: number;
}

interface Programme {
  readonly ours: Ours;
  readonly devices: readonly Pick<Device, "site" | "retired">[];
}

/** Months after which a count is too old: common practice, no source (stock is taken once a year at least). */
const COUNT_HOLDS = 12;

/** A number below it has no digit too many. */
const TWO_DIGITS = 10;

/**
 * The rows of the Shelf that name a part, each with what of it counts. Out of doubt nothing is there:
 * neither what nobody counted within a year, what may have expired, nor what may come on no known day.
 * Of rows for the same part, site and lot the lowest number counts, for they are one stock told twice.
 */
export function judgedShelf({ ours, devices }: Programme): Shelved[] {
  const rows = ours.shelf.flatMap((item): Shelved[] => {
    const part = partNamed(ours.parts, item.part);
    if (part === null) return [];
    const site = siteOf(ours.sites, item.site);
    const place = { item, where: site || "the programme's store" };
    const stock = stockOf(place, ours, mostOf(part, yearlyNeed(part, site, { ours, devices })));
    const order = orderOf(place, ours);
    return [{ part, site, item, ...stock, ...order, doubts: [...stock.doubts, ...order.doubts] }];
  });
  const stocks = groupsOf(
    rows.filter(({ item }) => item.onHand !== null),
    stockKey,
  );
  const orders = groupsOf(
    rows.filter(({ item }) => (item.onOrder ?? 0) > 0),
    orderKey,
  );
  return rows.map((row) => {
    const same = stocks.get(stockKey(row)) ?? [row];
    const due = orders.get(orderKey(row)) ?? [row];
    const counts = row.item.onHand === null || row === lowest(same, ({ onHand }) => onHand);
    const comes = row === lowest(due, ({ receipt }) => receipt?.units ?? 0);
    return {
      ...row,
      ...(counts ? { expiry: earliest(same) } : { onHand: 0, expired: 0 }),
      ...(comes ? {} : { receipt: null }),
      doubts: [...twice(row, same), ...(same.length > 1 ? [] : twice(row, due)), ...row.doubts],
    };
  });
}

/** What cannot be counted on, one sentence a doubt: for the job that would have used it. */
export function notCounted(rows: readonly Shelved[]): string[] {
  return rows.flatMap(({ part, doubts }) =>
    doubts.map((doubt) => `${part.name}: ${doubtText(doubt)}`),
  );
}

/** A doubt in words: what, and what to do. */
export function doubtText({ cause, fix }: ShelfDoubt): string {
  return `${cause}: ${fix}`;
}

interface Placed {
  readonly item: ShelfItem;
  /** The site in words. */
  readonly where: string;
}

type Stock = Pick<Shelved, "onHand" | "expiry" | "expired" | "doubts">;

/** `most` is what is believed of one row; null where nobody can say. */
function stockOf({ item, where }: Placed, { settings }: Ours, most: number | null): Stock {
  const { expiry } = item;
  const units = Math.floor(item.onHand ?? 0);
  const none = { onHand: 0, expiry, expired: 0 };
  if (units === 0) return { ...none, doubts: [] };
  const doubted = (kind: ProblemKind, field: keyof ShelfItem, why: string, fix: string): Stock => {
    const cause = `${units} on hand at ${where}, ${why}, not counted`;
    return { ...none, doubts: [{ kind, field, cause, fix }] };
  };
  if (item.remark !== undefined) {
    const fix = "take what must not be used off the number, and clear the remark";
    return doubted("remark", "onHand", `beside which stands ${item.remark}`, fix);
  }
  if (item.unread?.has("expiry") === true) {
    const fix = "type the expiry on the label";
    return doubted("shelf expiry", "expiry", "expiry cannot be read", fix);
  }
  if (expiry !== null && expiry < settings.reportDate) {
    return { ...none, expired: units, doubts: [] };
  }
  const why = countDoubt(item, settings.reportDate);
  if (why !== null) return doubted("shelf count", "countedOn", why, "count again");
  if (most === null || units <= most) {
    return { onHand: units, expiry, expired: 0, doubts: [] };
  }
  const likely = Math.floor(units / 10);
  const cause = `${units} on hand at ${where}, over two years' need, only ${likely} counted`;
  const fix = "check for a digit too many";
  const doubts = [{ kind: "shelf count high", field: "onHand", cause, fix }] as const;
  return { onHand: likely, expiry, expired: 0, doubts };
}

/** Why a count does not hold on the report date, or null. */
function countDoubt({ countedOn, unread }: ShelfItem, reportDate: Day): string | null {
  if (unread?.has("countedOn") === true) return "the day of the count cannot be read";
  if (countedOn === null) return "without a day of the count";
  if (countedOn > reportDate) return `counted on ${isoText(countedOn)}, after the report date`;
  if (addMonths(countedOn, COUNT_HOLDS) >= reportDate) return null;
  return `counted on ${isoText(countedOn)}, over ${COUNT_HOLDS} months ago`;
}

function orderOf({ item, where }: Placed, { settings }: Ours): Pick<Shelved, "receipt" | "doubts"> {
  const { expectedOn } = item;
  const units = Math.floor(item.onOrder ?? 0);
  if (units === 0) return { receipt: null, doubts: [] };
  if (expectedOn !== null && expectedOn >= settings.reportDate) {
    return { receipt: { on: expectedOn, units }, doubts: [] };
  }
  const missing =
    item.unread?.has("expectedOn") === true
      ? "its expected date cannot be read"
      : "no date expected";
  const when = expectedOn === null ? missing : `expected ${isoText(expectedOn)}`;
  const cause = `${units} on order at ${where}, ${when}, not counted`;
  const doubt = { kind: "delivery", field: "expectedOn", cause, fix: "confirm the date" } as const;
  return { receipt: null, doubts: [doubt] };
}

/** Units of a part that the devices of a place use in a year at most; null where nobody can say. */
function yearlyNeed(part: Part, site: string, { ours, devices }: Programme): number | null {
  const { shortest } = part;
  if (shortest === null || !(shortest > 0)) return null;
  const inUse = devices.filter(({ retired }) => !retired);
  const here = inUse.filter((device) => siteOf(ours.sites, device.site) === site);
  const served = site === "" || here.length === 0 ? inUse.length : here.length;
  return served === 0 ? null : served * Math.ceil(12 / shortest) * unitsTaken(part);
}

function mostOf({ supply }: Part, yearly: number | null): number | null {
  return yearly === null ? null : Math.max(2 * yearly, supply.pack, TWO_DIGITS - 1);
}

/** Rows of one stock: part, site and lot; without a lot, its expiry tells one from another. */
function stockKey({ part, site, item }: Shelved): string {
  return [part.code, site, keyOf(item.lot) || (item.expiry ?? "")].join("\n");
}

/** Rows of one order: part, site, lot and the day it is expected. */
function orderKey({ part, site, item }: Shelved): string {
  return [part.code, site, keyOf(item.lot), item.expectedOn ?? ""].join("\n");
}

function groupsOf(
  rows: readonly Shelved[],
  keyed: (row: Shelved) => string,
): ReadonlyMap<string, readonly Shelved[]> {
  const groups = new Map<string, Shelved[]>();
  for (const row of rows) {
    const key = keyed(row);
    const there = groups.get(key);
    if (there === undefined) groups.set(key, [row]);
    else there.push(row);
  }
  return groups;
}

/** The row with the lowest number; the first of equal ones. */
function lowest(rows: readonly Shelved[], of: (row: Shelved) => number): Shelved | null {
  return rows.reduce<Shelved | null>(
    (least, row) => (least === null || of(row) < of(least) ? row : least),
    null,
  );
}

function earliest(rows: readonly Shelved[]): Day | null {
  return rows.reduce<Day | null>(
    (first, { expiry }) =>
      expiry === null || (first !== null && first <= expiry) ? first : expiry,
    null,
  );
}

/** What is told at every row after the first that tells of the same. */
function twice(row: Shelved, same: readonly Shelved[]): ShelfDoubt[] {
  const [first] = same;
  if (first === undefined || first === row || !same.includes(row)) return [];
  const where = row.site || "the programme's store";
  const rows = `${first.item.row + 1} and ${row.item.row + 1}`;
  const cause = `${where} stands in rows ${rows}, only the lower number counts`;
  return [{ kind: "shelf row twice", field: "part", cause, fix: "keep one row" }];
}
