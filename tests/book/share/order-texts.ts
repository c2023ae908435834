/** Readers of the order's texts, written for the tests alone: they share nothing with the writers. */

/** Cells of a CSV by RFC 4180, character by character. Throws where the text breaks its rules. */
export function readCsv(text: string, separator: string): string[][] {
  const rows: string[][] = [];
  let row: string[] = [];
  let at = 0;
  while (at < text.length) {
    const cell = text[at] === '"' ? quotedCell(text, at) : bareCell(text, at, separator);
    row.push(cell.text);
    at = cell.end;
    if (text[at] === separator) at += 1;
    else if (text.startsWith("\r\n", at)) {
      rows.push(row);
      row = [];
      at += 2;
    } else throw new Error(`neither a separator nor a line's end at ${at}`);
  }
  return rows;
}

interface Cell {
  readonly text: string;
  readonly end: number;
}

function quotedCell(text: string, start: number): Cell {
  let cell = "";
  let at = start + 1;
  for (; text[at] !== '"' || text[at + 1] === '"'; at += 1) {
    if (at >= text.length) throw new Error("a quote is never closed");
    if (text[at] === '"') at += 1;
    cell += text[at] ?? "";
  }
  return { text: cell, end: at + 1 };
}

function bareCell(text: string, start: number, separator: string): Cell {
  let at = start;
  while (at < text.length && text[at] !== separator && text[at] !== "\r") {
    if (text[at] === '"' || text[at] === "\n") throw new Error(`a bare sign at ${at}`);
    at += 1;
  }
  return { text: text.slice(start, at), end: at };
}

/** An element read back. */
export interface Node {
  readonly name: string;
  readonly attributes: ReadonlyMap<string, string>;
  readonly children: Node[];
  text: string;
}

const NAMED: Readonly<Record<string, string>> = {
  amp: "&",
  lt: "<",
  gt: ">",
  quot: '"',
  apos: "'",
};

function meant(text: string): string {
  if (/[<]|\]\]>/.test(text)) throw new Error(`"${text}" holds a sign that must be escaped`);
  return text.replace(/&(#?\w*;?)/g, (whole, inner: string) => {
    const name = inner.slice(0, -1);
    const sign = name.startsWith("#") ? String.fromCodePoint(Number(name.slice(1))) : NAMED[name];
    if (!inner.endsWith(";") || sign === undefined)
      throw new Error(`"${whole}" stands for nothing`);
    return sign;
  });
}

/** The root element of an XML text. Throws where the text is not well-formed. */
export function readXml(text: string): Node {
  // What XML 1.0, production 2, lets a text hold, less the control characters it allows.
  if (/[^\t\n\u0020-\u007e\u00a0-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]/u.test(text)) {
    throw new Error("a control character is left");
  }
  const open: Node[] = [{ name: "", attributes: new Map(), children: [], text: "" }];
  const body = text.replace(/^<\?xml version="1\.0" encoding="UTF-8"\?>\n/, "");
  for (const [piece] of body.matchAll(/<[^>]*>|[^<]+/g)) {
    const top = open.at(-1);
    if (top === undefined) throw new Error("more closed than opened");
    if (piece.startsWith("</")) {
      if (piece !== `</${top.name}>`) throw new Error(`${piece} closes ${top.name}`);
      open.pop();
    } else if (piece.startsWith("<")) {
      const [, name = "", rest = ""] = /^<([\w:]+)((?: [\w:]+="[^"]*")*)>$/.exec(piece) ?? [];
      if (name === "") throw new Error(`${piece} is no tag`);
      const attributes = new Map(
        [...rest.matchAll(/ ([\w:]+)="([^"]*)"/g)].map(([, key = "", value = ""]) => [
          key,
          meant(value),
        ]),
      );
      const node: Node = { name, attributes, children: [], text: "" };
      top.children.push(node);
      open.push(node);
    } else top.text += meant(piece);
  }
  const [root] = open[0]?.children ?? [];
  if (open.length !== 1 || root === undefined) throw new Error("elements are left open");
  return root;
}

/** The text at a path of names below an element, null where there is none. */
export function textAt(node: Node, ...names: readonly string[]): string | null {
  let found: Node | undefined = node;
  for (const name of names) found = found?.children.find((child) => child.name === name);
  return found?.text ?? null;
}

const IDENTIFIED = "ID! ExtendedID PhysicalAttribute";
const CUSTOMER =
  "CustomerAssignedAccountID SupplierAssignedAccountID AdditionalAccountID Party DeliveryContact";

/**
 * What may stand in what, in which order; ! marks what must be there. Transcribed in part from
 * UBL-Order-2.1.xsd and UBL-CommonAggregateComponents-2.1.xsd, OASIS UBL 2.1, text read (a public
 * draft of 2010); elements of the standard that orders of ours never hold are left out here and there.
 */
const SCHEMA: Readonly<Record<string, string>> = {
  Order:
    "UBLExtensions UBLVersionID CustomizationID ProfileID ProfileExecutionID ID! SalesOrderID CopyIndicator UUID IssueDate! " +
    "IssueTime OrderTypeCode Note RequestedInvoiceCurrencyCode DocumentCurrencyCode PricingCurrencyCode TaxCurrencyCode " +
    "CustomerReference AccountingCostCode AccountingCost LineCountNumeric ValidityPeriod QuotationDocumentReference " +
    "OrderDocumentReference OriginatorDocumentReference CatalogueReference AdditionalDocumentReference Contract Signature " +
    "BuyerCustomerParty! SellerSupplierParty! OriginatorCustomerParty FreightForwarderParty AccountingCustomerParty Delivery " +
    "DeliveryTerms PaymentMeans PaymentTerms TransactionConditions AllowanceCharge TaxExchangeRate PricingExchangeRate " +
    "PaymentExchangeRate DestinationCountry TaxTotal AnticipatedMonetaryTotal OrderLine!",
  OrderLine:
    "SubstitutionStatusCode Note LineItem! SellerProposedSubstituteLineItem SellerSubstitutedLineItem " +
    "BuyerProposedSubstituteLineItem CatalogueLineReference QuotationLineReference DocumentReference",
  LineItem:
    "ID! SalesOrderID UUID Note LineStatusCode Quantity LineExtensionAmount TotalTaxAmount MinimumQuantity MaximumQuantity " +
    "MinimumBackorderQuantity MaximumBackorderQuantity InspectionMethodCode PartialDeliveryIndicator BackOrderAllowedIndicator " +
    "AccountingCostCode AccountingCost Delivery DeliveryTerms OriginatorParty OrderedShipment PricingReference AllowanceCharge " +
    "Price Item! SubLineItem",
  Item:
    "Description PackQuantity PackSizeNumeric CatalogueIndicator Name HazardousRiskIndicator AdditionalInformation Keyword " +
    "BrandName ModelName BuyersItemIdentification SellersItemIdentification ManufacturersItemIdentification " +
    "StandardItemIdentification CatalogueItemIdentification AdditionalItemIdentification",
  BuyersItemIdentification: IDENTIFIED,
  SellersItemIdentification: IDENTIFIED,
  ManufacturersItemIdentification: IDENTIFIED,
  StandardItemIdentification: IDENTIFIED,
  Price: "PriceAmount! BaseQuantity PriceChangeReason PriceTypeCode PriceType",
  Delivery:
    "ID Quantity MinimumQuantity MaximumQuantity ActualDeliveryDate ActualDeliveryTime LatestDeliveryDate LatestDeliveryTime " +
    "TrackingID DeliveryAddress DeliveryLocation AlternativeDeliveryLocation RequestedDeliveryPeriod PromisedDeliveryPeriod",
  DeliveryLocation: "ID Description Conditions CountrySubentity CountrySubentityCode",
  RequestedDeliveryPeriod: "StartDate StartTime EndDate EndTime DurationMeasure",
  DocumentReference: "ID! CopyIndicator UUID IssueDate IssueTime DocumentTypeCode DocumentType",
  QuotationDocumentReference:
    "ID! CopyIndicator UUID IssueDate IssueTime DocumentTypeCode DocumentType",
  BuyerCustomerParty: CUSTOMER,
  SellerSupplierParty: "CustomerAssignedAccountID AdditionalAccountID DataSendingCapability Party",
  Party:
    "EndpointID IndustryClassificationCode PartyIdentification PartyName Language PostalAddress",
  PartyName: "Name!",
  AnticipatedMonetaryTotal:
    "LineExtensionAmount TaxExclusiveAmount TaxInclusiveAmount AllowanceTotalAmount ChargeTotalAmount PrepaidAmount " +
    "PayableRoundingAmount PayableAmount!",
};

/** Elements that may stand several times. */
const SEVERAL = ["Note", "OrderLine", "DocumentReference"];

/** What is wrong with an order by the standard; nothing where it is right. */
export function faultsOf(node: Node): string[] {
  const bare = (name: string): string => name.replace(/^c[ab]c:/, "");
  const name = bare(node.name);
  const basic = node.name.startsWith("cbc:");
  const rule = SCHEMA[name];
  if (basic) {
    const amount = name.endsWith("Amount") && !node.attributes.has("currencyID");
    return [
      ...(node.children.length > 0 ? [`${name} holds elements`] : []),
      ...(node.text.trim() === "" ? [`${name} is empty`] : []),
      ...(amount ? [`${name} has no currency`] : []),
    ];
  }
  if (rule === undefined) return [`${name} is not in the table`];
  const order = rule.split(" ").map((word) => word.replace("!", ""));
  const needed = rule.split(" ").filter((word) => word.endsWith("!"));
  const names = node.children.map((child) => bare(child.name));
  const places = names.map((child) => order.indexOf(child));
  return [
    ...names
      .filter((_, at) => places[at] === -1)
      .map((child) => `${child} does not go into ${name}`),
    ...names
      .filter((_, at) => at > 0 && (places[at] ?? 0) < (places[at - 1] ?? 0))
      .map((child) => `${child} comes too late in ${name}`),
    ...names
      .filter((child, at) => names.indexOf(child) !== at && !SEVERAL.includes(child))
      .map((child) => `${child} stands twice in ${name}`),
    ...needed
      .map((word) => word.slice(0, -1))
      .filter((word) => !names.includes(word))
      .map((word) => `${name} lacks ${word}`),
    ...node.children.flatMap(faultsOf),
  ];
}
