import { isoText } from "../../core/day.ts";
import { CAUTIONS } from "../records/cautions.ts";
import { BookError } from "../workbook/errors.ts";
import type { Purchase, PurchaseLine } from "./purchase.ts";
import { type Element, holding, holdingIf, said, saidIf, xmlText } from "./xml.ts";

const SPACE = "urn:oasis:names:specification:ubl:schema:xsd";

/** ISO/IEC 6523 code of the scheme GTINs belong to (from memory). */
const GTIN_SCHEME = { schemeID: "0160" };

/**
 * An order of OASIS UBL 2.1: one buyer, one seller. Elements stand in the order the schema prescribes.
 * Source: UBL-Order-2.1.xsd and UBL-CommonAggregateComponents-2.1.xsd, text read.
 *
 * Throws a BookError where the standard's required elements cannot be filled.
 */
export function orderXml(purchase: Purchase): string {
  requireParties(purchase);
  const { number, reportDate, currency, lines, buyer, seller, parts, unpriced } = purchase;
  const quotes = new Set(lines.map(({ quote }) => quote.trim()));
  const common = quotes.size === 1 ? [...quotes].join("") : "";
  const order = holding("Order", [
    said("cbc:UBLVersionID", "2.1"),
    said("cbc:ID", number),
    said("cbc:IssueDate", isoText(reportDate)),
    ...notesOf(purchase).map((note) => said("cbc:Note", note)),
    said("cbc:DocumentCurrencyCode", currency),
    said("cbc:LineCountNumeric", String(lines.length)),
    ...quoteOf("cac:QuotationDocumentReference", common),
    partyOf("cac:BuyerCustomerParty", buyer),
    partyOf("cac:SellerSupplierParty", seller),
    // A total that leaves out what has no price yet would be taken for the whole.
    ...(unpriced.length > 0 ? [] : [totalOf(parts, currency)]),
    ...lines.map((line) => lineElement(line, { currency, quoted: common !== "" })),
  ]);
  return xmlText({
    ...order,
    attributes: {
      xmlns: `${SPACE}:Order-2`,
      "xmlns:cac": `${SPACE}:CommonAggregateComponents-2`,
      "xmlns:cbc": `${SPACE}:CommonBasicComponents-2`,
    },
  });
}

function requireParties({ buyer, seller, number, lines }: Purchase): void {
  if (buyer === "") throw new BookError("An order as XML must name the buyer: give --buyer.");
  if (number.trim() === "") throw new BookError("An order as XML must have a number.");
  if (seller !== "") return;
  const named = [...new Set(lines.map(({ supplier }) => supplier))].filter((name) => name !== "");
  throw new BookError(
    named.length === 0
      ? "An order as XML must name the supplier: fill in Supplier on Parts, or give --seller."
      : `An order as XML goes to one supplier, and these lines are for ${named.join(", ")}${lines.some(({ supplier }) => supplier === "") ? " and no supplier" : ""}: give --seller and run it once for each.`,
  );
}

function notesOf({ book, reportDate, unpriced }: Purchase): string[] {
  return [
    `As of ${isoText(reportDate)}, from ${book}. Complete sets only, no partial deliveries. Taxes and freight are not included.`,
    ...(unpriced.length === 0 ? [] : [`No price is known yet for ${unpriced.join(", ")}.`]),
    CAUTIONS.planningAid,
  ];
}

function partyOf(role: string, name: string): Element {
  return holding(role, [
    holding("cac:Party", [holding("cac:PartyName", [said("cbc:Name", name)])]),
  ]);
}

function quoteOf(name: string, quote: string): Element[] {
  return holdingIf(name, saidIf("cbc:ID", quote.trim()));
}

function totalOf(parts: number, currency: string): Element {
  return holding("cac:AnticipatedMonetaryTotal", [
    moneyOf("cbc:LineExtensionAmount", parts, currency),
    moneyOf("cbc:PayableAmount", parts, currency),
  ]);
}

function moneyOf(name: string, amount: number, currency: string): Element {
  return said(name, amount.toFixed(2), { currencyID: currency });
}

interface Around {
  readonly currency: string;
  /** The quote is named for the whole order already. */
  readonly quoted: boolean;
}

function lineElement(line: PurchaseLine, { currency, quoted }: Around): Element {
  const { id, note, quantity, unit, price, priceFor, amount, quote } = line;
  const unitCode = { unitCode: unit };
  return holding("cac:OrderLine", [
    holding("cac:LineItem", [
      said("cbc:ID", String(id)),
      ...saidIf("cbc:Note", note),
      said("cbc:Quantity", String(quantity), unitCode),
      ...(amount === null ? [] : [moneyOf("cbc:LineExtensionAmount", amount, currency)]),
      said("cbc:PartialDeliveryIndicator", "false"),
      ...saidIf("cbc:AccountingCost", line.costCentre),
      deliveryOf(line),
      ...(price === null
        ? []
        : [
            holding("cac:Price", [
              moneyOf("cbc:PriceAmount", price, currency),
              said("cbc:BaseQuantity", String(priceFor), unitCode),
            ]),
          ]),
      itemOf(line),
    ]),
    ...(quoted || quote.trim() === ""
      ? []
      : [
          holding("cac:DocumentReference", [
            said("cbc:ID", quote.trim()),
            said("cbc:DocumentType", "Quotation"),
          ]),
        ]),
  ]);
}

function deliveryOf({ site, shipTo, needBy }: PurchaseLine): Element {
  return holding("cac:Delivery", [
    ...holdingIf("cac:DeliveryLocation", [
      ...saidIf("cbc:ID", site),
      ...saidIf("cbc:Description", shipTo),
    ]),
    holding("cac:RequestedDeliveryPeriod", [said("cbc:EndDate", isoText(needBy))]),
  ]);
}

function itemOf(line: PurchaseLine): Element {
  const number = (name: string, text: string, scheme = {}): Element[] =>
    holdingIf(name, saidIf("cbc:ID", text, scheme));
  return holding("cac:Item", [
    said("cbc:PackSizeNumeric", String(line.priceFor)),
    said("cbc:Name", line.item),
    ...number("cac:BuyersItemIdentification", line.ourItem),
    ...number("cac:SellersItemIdentification", line.supplierItem),
    ...number("cac:ManufacturersItemIdentification", line.makerItem),
    ...number("cac:StandardItemIdentification", line.gtin, GTIN_SCHEME),
  ]);
}
