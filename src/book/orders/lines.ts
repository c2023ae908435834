import { laterPrice } from "../../core/cost.ts";
import { civilDate, type Day, isoText } from "../../core/day.ts";
import { orderBy } from "../../core/order.ts";
import { type OrderTime, purchasesOf } from "./ledger.ts";
import { type OrderPlace, placeText } from "./place.ts";
import { sharedOutText } from "./shared-out.ts";
import { beyond, comeBy, dueBy, lostBy, receivedBy } from "./place-stock.ts";
import type { Part } from "../records/records.ts";
import { percentText } from "../records/percent.ts";
import type { Settings } from "../records/settings.ts";

/** One line of an order. */
export interface OrderLine {
  readonly place: OrderPlace;
  /** Units, whole packs. */
  readonly units: number;
  readonly packs: number;
  /** The first day on which a spare would be missing without it. */
  readonly needBy: Day;
  /** The last working day on which it can be ordered; in the past where it is late already. */
  readonly orderBy: Day;
  /** The day of the joint order it goes out with. */
  readonly orderOn: Day;
  /** Price of a pack that day and cost of the line; null while no price is known. */
  readonly price: number | null;
  readonly cost: number | null;
  /** Why it is there, one sentence. */
  readonly why: string;
}

/** Order lines of the time ahead, put together into the fewest orders that keep every spare. */
export function orderLines(places: readonly OrderPlace[], time: OrderTime): OrderLine[] {
  return merged(datedLines(places, time))
    .map((line) => priced(line, time))
    .sort(
      (one, other) =>
        one.orderOn - other.orderOn ||
        one.place.site.localeCompare(other.place.site, "en") ||
        one.place.part.name.localeCompare(other.place.part.name, "en"),
    );
}

/** The same before what goes to one place in one order is one line: a line for each need, place by place. */
export function purchaseLines(places: readonly OrderPlace[], time: OrderTime): OrderLine[] {
  return datedLines(places, time).map((line) => priced(line, time));
}

function datedLines(places: readonly OrderPlace[], time: OrderTime): Dated[] {
  const bare = places.flatMap((place) => needsOf(place, time));
  const days = jointDays(bare, time);
  return bare.map((line, at) => ({ ...line, orderOn: days[at] ?? time.reportDate }));
}

type Bare = Omit<OrderLine, "orderOn" | "price" | "cost">;
type Dated = Omit<OrderLine, "price" | "cost">;

/** What goes to one place in one order is one line; the most urgent need speaks for it. */
function merged(lines: readonly Dated[]): Dated[] {
  const byPlace = new Map<string, Dated>();
  for (const line of lines) {
    const key = `${line.orderOn} ${line.place.part.code} ${line.place.site}`;
    const before = byPlace.get(key);
    const sum =
      before === undefined
        ? line
        : {
            ...before,
            units: before.units + line.units,
            packs: before.packs + line.packs,
            why: `${before.why.split(MORE)[0] ?? ""}${MORE}${isoText(line.needBy)}.`,
          };
    byPlace.set(key, sum);
  }
  return [...byPlace.values()];
}

const MORE = " Also what would be short from ";

/** When a place runs short of its spares, and what it needs then. */
function needsOf(place: OrderPlace, time: OrderTime): Bare[] {
  const { reportDate, settings, calendar } = time;
  return purchasesOf(place, time).map(({ on, units, ordered, lost }) => ({
    place,
    units,
    packs: units / place.part.supply.pack,
    needBy: on,
    orderBy: orderBy(on, place.leadCover, calendar),
    why: whyOf(place, { day: on, reportDate, ordered, lost, settings }),
  }));
}

/** What comes due before a delivery on its way although nothing is left: no order helps, only a word with the supplier. */
export function waitsOf(places: readonly OrderPlace[], reportDate: Day): string[] {
  return places.flatMap((place) => {
    const { stock, due, part } = place;
    const shortOn = (day: number): number =>
      dueBy(due, day) + lostBy(place, day) - stock.onHand - receivedBy(stock.receipts, day);
    const late = stock.receipts.flatMap(({ on, units }) => {
      const before = due.filter((day) => day < on);
      const first = before.find((day) => shortOn(day) > 0);
      const isNow = on <= reportDate + part.supply.leadDays;
      return first === undefined || !isNow ? [] : [{ on, units, first, short: shortOn(on - 1) }];
    });
    return late
      .slice(0, 1)
      .map(
        ({ on, units, first, short }) =>
          `${part.name} at ${placeText(place)}: ${short} short from ${isoText(first)} until ${units} on order arrive on ${isoText(on)}: ask for an earlier delivery`,
      );
  });
}

interface Short {
  readonly day: Day;
  readonly reportDate: Day;
  /** Units of earlier lines, and those of them past their shelf life by then. */
  readonly ordered: number;
  readonly lost: number;
  readonly settings: Settings;
}

function whyOf(place: OrderPlace, short: Short): string {
  const { day, reportDate, ordered, settings } = short;
  const { stock, due, safetyStock } = place;
  const at = placeText(place);
  const called = dueBy(due, day);
  const isForward = place.forward > 0 && day >= reportDate + place.protectionInterval;
  const forward = isForward ? ` (${place.forward} of them if use rises)` : "";
  const there =
    stock.countedOn === null && stock.onHand === 0
      ? "nothing counted on the shelf"
      : `${stock.onHand} on the shelf`;
  const coming = ordered + comeBy(place, day, reportDate);
  const later = stock.receipts.filter(
    ({ on }) => on > Math.max(day, reportDate + place.part.supply.leadDays),
  );
  const more = later.map(({ on, units }) => `${units} more expected on ${isoText(on)}, `).join("");
  const lost = lostBy(place, day) + short.lost;
  const past = lost === 0 ? "" : `${lost} past expiry by then, `;
  const when = day === reportDate ? "now" : `from ${isoText(day)}`;
  const early = beyond(place, day - reportDate);
  const calls = early === 0 ? "" : `${early.toFixed(2)} more expected early, `;
  const left = stock.onHand + coming - lost - called - early;
  const missing = Math.max(1, Math.ceil(safetyStock - left - 1e-9));
  return `${at}: ${there}, ${coming} ordered, ${more}${past}${called} due by ${isoText(day)}${forward}, ${calls}${safetyStock} kept as spare (${percentText(settings.serviceLevel)}); short ${when} by ${missing}.${sharedOutText(place, settings)}`;
}

/**
 * The days of joint orders, one a line. A line may go out up to the days between orders before its last
 * day; a joint order goes out on the last day of its most urgent line and takes every line along that
 * may go by then. No plan needs fewer orders of one supplier.
 */
function jointDays(lines: readonly Bare[], { reportDate, settings }: OrderTime): Day[] {
  const days = lines.map(() => reportDate);
  const bySupplier = new Map<string, number[]>();
  lines.forEach(({ place }, at) => {
    const { supplier } = place.part.supply;
    const members = bySupplier.get(supplier);
    if (members === undefined) bySupplier.set(supplier, [at]);
    else members.push(at);
  });
  for (const members of bySupplier.values()) {
    const lastDay = (at: number): number => Math.max(reportDate, lines[at]?.orderBy ?? reportDate);
    const ordered = members.sort((one, other) => lastDay(one) - lastDay(other));
    let joint = -Infinity;
    for (const at of ordered) {
      if (lastDay(at) - settings.reviewDays > joint) joint = lastDay(at);
      days[at] = joint as Day;
    }
  }
  return days;
}

function priced(line: Dated, time: OrderTime): OrderLine {
  const price = priceOn(line.place.part, line.orderOn, time);
  return { ...line, price, cost: price === null ? null : roundMoney(price * line.packs) };
}

/** Price of a pack on a day: prices rise on 1 January after the report date's year. Null while no price is known. */
export function priceOn(
  { supply: { packPrice } }: Part,
  day: Day,
  { reportDate, settings }: Pick<OrderTime, "reportDate" | "settings">,
): number | null {
  const years = Math.max(0, civilDate(day).year - civilDate(reportDate).year);
  return packPrice === null ? null : roundMoney(laterPrice(packPrice, settings.priceRise, years));
}

/** Deliveries that some lines ask for, each with freight: what one supplier sends to one place on one day. */
export function deliveriesOf(lines: readonly OrderLine[]): number {
  return new Set(
    lines.map(({ orderOn, place }) => `${orderOn} ${place.site} ${place.part.supply.supplier}`),
  ).size;
}

/** Two decimals. */
export function roundMoney(amount: number): number {
  return Math.round(amount * 100 + 1e-9) / 100;
}
