import { type Day, isoText } from "../../core/day.ts";
import type { OrderLine } from "../orders/lines.ts";
import { costOf, type Orders } from "../orders/orders.ts";
import { siteByCode } from "../records/site-names.ts";
import { BookError } from "../workbook/errors.ts";

/** One line of a purchase: what purchasing needs to know, and nothing that needs the workbook. */
export interface PurchaseLine {
  /** Number of the line, from 1. */
  readonly id: number;
  readonly item: string;
  /** Units, whole packs. */
  readonly quantity: number;
  /** Unit code of UN/ECE Recommendation 20. */
  readonly unit: string;
  readonly packs: number;
  /**
   * Price of so many units as `priceFor` says, which is a pack: quantity / priceFor × price is the
   * amount without any rounding. Null while no price is known.
   */
  readonly price: number | null;
  readonly priceFor: number;
  readonly amount: number | null;
  readonly needBy: Day;
  /** Code of the site; "" is the programme's own store. */
  readonly site: string;
  readonly shipTo: string;
  readonly costCentre: string;
  readonly ourItem: string;
  readonly supplierItem: string;
  readonly makerItem: string;
  readonly gtin: string;
  readonly supplier: string;
  readonly quote: string;
  /** Why the line is there. */
  readonly note: string;
}

/** What purchasing is asked to order. */
export interface Purchase {
  readonly number: string;
  readonly buyer: string;
  /** "" where the lines go to several suppliers, or none is named. */
  readonly seller: string;
  /** File name of the book it comes from. */
  readonly book: string;
  readonly reportDate: Day;
  readonly currency: string;
  readonly lines: readonly PurchaseLine[];
  /** Sum of the lines with a price, expected freight, and the items without a price. */
  readonly parts: number;
  readonly freight: number;
  readonly unpriced: readonly string[];
}

/** What a person says besides. */
export interface Said {
  readonly book: string;
  readonly buyer: string;
  /** Takes the lines of one supplier; null takes all. */
  readonly seller: string | null;
  /** Number of the order; null for one made of the date. */
  readonly number: string | null;
}

/** The lines to go out now, as purchasing needs them. Throws a BookError for a seller without lines. */
export function purchaseOf(orders: Orders, said: Said): Purchase {
  const { reading, horizon } = orders.year;
  const chosen = chosenLines(orders.now, said.seller);
  const { parts, freight, unpriced } = costOf(orders, chosen);
  const suppliers = suppliersOf(chosen);
  return {
    number: said.number ?? numberOf(orders, said.seller),
    buyer: said.buyer.trim(),
    // As Parts spells it; the given name is used where Parts has none.
    seller: (suppliers.length === 1 ? (suppliers[0] ?? "") : "") || (said.seller?.trim() ?? ""),
    book: said.book,
    reportDate: horizon.reportDate,
    currency: reading.ours.settings.currency,
    lines: chosen.map((line, at) => lineOf(line, at + 1, orders)),
    parts,
    freight,
    unpriced,
  };
}

/** The date, and the supplier's place among several: two orders of a day must not share a number. */
function numberOf({ now, year }: Orders, seller: string | null): string {
  const date = isoText(year.horizon.reportDate);
  const suppliers = suppliersOf(now).map((name) => name.toLowerCase());
  const place = seller === null ? -1 : suppliers.indexOf(seller.trim().toLowerCase());
  return suppliers.length > 1 && place >= 0 ? `${date}-${place + 1}` : date;
}

/** The suppliers of some lines in order, "" first where a line names none. */
function suppliersOf(lines: readonly OrderLine[]): string[] {
  return [...new Set(lines.map(supplierOf))].sort((one, other) => one.localeCompare(other, "en"));
}

function supplierOf({ place }: OrderLine): string {
  return place.part.supply.supplier.trim();
}

/** A seller takes the lines that name it; where no line names anybody, all of them. */
function chosenLines(lines: readonly OrderLine[], seller: string | null): readonly OrderLine[] {
  if (seller === null || lines.length === 0) return lines;
  const named = suppliersOf(lines).filter((name) => name !== "");
  if (named.length === 0) return lines;
  const wanted = seller.trim().toLowerCase();
  const found = lines.filter((line) => supplierOf(line).toLowerCase() === wanted);
  if (found.length > 0) return found;
  throw new BookError(
    `No line is for the supplier "${seller.trim()}"; the lines are for ${named.join(", ")}.`,
  );
}

function lineOf(line: OrderLine, id: number, { year }: Orders): PurchaseLine {
  const { part, site } = line.place;
  const { supply } = part;
  const home = siteByCode(year.reading.ours.sites, site);
  return {
    id,
    item: part.name,
    quantity: line.units,
    unit: supply.unit,
    packs: line.packs,
    price: line.price,
    priceFor: supply.pack,
    amount: line.cost,
    needBy: line.needBy,
    site,
    shipTo: home?.shipTo ?? "",
    costCentre: (home?.costCentre ?? "") || supply.costCentre,
    ourItem: supply.ourItem,
    supplierItem: supply.supplierItem,
    makerItem: supply.makerItem,
    gtin: supply.gtin,
    supplier: supply.supplier.trim(),
    quote: supply.quote,
    note: `${line.why} No partial delivery.`,
  };
}
