import type { Day } from "../../core/day.ts";
import type { Purchase, PurchaseLine } from "./purchase.ts";

/** What a cell of an order holds. Texts never become numbers: zeros in front of a part number count. */
export type Content =
  | { readonly kind: "text"; readonly text: string }
  | { readonly kind: "whole" | "money"; readonly number: number | null }
  | { readonly kind: "date"; readonly day: Day };

/** A column of an order, in the workbook and in the CSV alike. */
export interface OrderColumn {
  readonly heading: string;
  /** Where it stands in an order of OASIS UBL 2.1, below LineItem where nothing else is said. */
  readonly element: string;
  readonly about: string;
  /** Width in characters on paper; null where only a machine needs it, or the head of the order says it. */
  readonly width: number | null;
  readonly content: (line: PurchaseLine, purchase: Purchase) => Content;
}

const text = (value: string): Content => ({ kind: "text", text: value });
const whole = (number: number): Content => ({ kind: "whole", number });
const money = (number: number | null): Content => ({ kind: "money", number });

/** The columns: plain headings for the elements of an order line of OASIS UBL 2.1. */
export const ORDER_COLUMNS: readonly OrderColumn[] = [
  {
    heading: "Line",
    element: "ID",
    about: "Number of the line.",
    width: 6,
    content: ({ id }) => whole(id),
  },
  {
    heading: "Item",
    element: "Item/Name",
    about: "What is ordered.",
    width: 16,
    content: ({ item }) => text(item),
  },
  {
    heading: "Quantity",
    element: "Quantity",
    about: "Units, whole packs.",
    width: 9,
    content: ({ quantity }) => whole(quantity),
  },
  {
    heading: "Unit",
    element: "Quantity/@unitCode",
    about: "Code from UN/ECE Recommendation 20: SET for a set, EA for each.",
    width: 6,
    content: ({ unit }) => text(unit),
  },
  {
    heading: "Packs",
    element: "",
    about: "Quantity divided by Per.",
    width: 7,
    content: ({ packs }) => whole(packs),
  },
  {
    heading: "Price",
    element: "Price/PriceAmount",
    about: "Of a pack; blank where no price is known.",
    width: 10,
    content: ({ price }) => money(price),
  },
  {
    heading: "Per",
    element: "Price/BaseQuantity",
    about: "Units the price is for: a pack.",
    width: 6,
    content: ({ priceFor }) => whole(priceFor),
  },
  {
    heading: "Amount",
    element: "LineExtensionAmount",
    about: "Quantity divided by Per, times Price.",
    width: 12,
    content: ({ amount }) => money(amount),
  },
  {
    heading: "Currency",
    element: "Price/PriceAmount/@currencyID",
    about: "ISO 4217; XXX where none is set.",
    width: null,
    content: (_, { currency }) => text(currency),
  },
  {
    heading: "Need by",
    element: "Delivery/RequestedDeliveryPeriod/EndDate",
    about: "Without it, a spare is missing from this day on.",
    width: 12,
    content: ({ needBy }) => ({ kind: "date", day: needBy }),
  },
  {
    heading: "Site",
    element: "Delivery/DeliveryLocation/ID",
    about: "Code; blank: the programme's own store.",
    width: 8,
    content: ({ site }) => text(site),
  },
  {
    heading: "Ship to",
    element: "Delivery/DeliveryLocation/Description",
    about: "Where it is delivered.",
    width: 20,
    content: ({ shipTo }) => text(shipTo),
  },
  {
    heading: "Cost centre",
    element: "AccountingCost",
    about: "Who pays.",
    width: 12,
    content: ({ costCentre }) => text(costCentre),
  },
  {
    heading: "Our number",
    element: "Item/BuyersItemIdentification/ID",
    about: "In our own catalogue; text.",
    width: 13,
    content: ({ ourItem }) => text(ourItem),
  },
  {
    heading: "Supplier's number",
    element: "Item/SellersItemIdentification/ID",
    about: "In the supplier's catalogue; text.",
    width: 13,
    content: ({ supplierItem }) => text(supplierItem),
  },
  {
    heading: "Maker's number",
    element: "Item/ManufacturersItemIdentification/ID",
    about: "Given by the maker; text.",
    width: null,
    content: ({ makerItem }) => text(makerItem),
  },
  {
    heading: "GTIN",
    element: "Item/StandardItemIdentification/ID",
    about: "Trade item number on the label; text.",
    width: null,
    content: ({ gtin }) => text(gtin),
  },
  {
    heading: "Supplier",
    element: "Order/SellerSupplierParty/Party/PartyName/Name",
    about: "Who delivers it.",
    width: null,
    content: ({ supplier }, { seller }) => text(supplier || seller),
  },
  {
    heading: "Quote",
    element: "Order/QuotationDocumentReference/ID",
    about: "The quote that gave the price.",
    width: 14,
    content: ({ quote }) => text(quote),
  },
  {
    heading: "Note",
    element: "Note",
    about: "Why the line is there.",
    width: null,
    content: ({ note }) => text(note),
  },
];
