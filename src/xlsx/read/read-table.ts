import type { Filter, Table } from "../../book/workbook/snapshot.ts";
import { areaOf } from "./areas.ts";
import { broken } from "../file/errors.ts";
import { shownText } from "../xml/escape.ts";
import { readFilter } from "./read-sheet.ts";
import { attribute, numberOf } from "../xml/attributes.ts";
import { eachChild, next, openRoot, readXml } from "../xml/xml.ts";

/** A table part. */
export interface TablePart {
  readonly path: string;
  readonly id: number;
  readonly table: Table;
  readonly filter: Filter | null;
}

/** Reads a table part. */
export function readTable(text: string, path: string): TablePart {
  const xml = readXml(text, path);
  openRoot(xml, "table");
  const area = areaOf(attribute(xml, "ref"));
  const name = attribute(xml, "displayName") ?? attribute(xml, "name");
  if (!area || name === null) throw broken(path, "its table has no name or place");
  const id = numberOf(xml, "id") ?? 0;
  const totalsRow = (numberOf(xml, "totalsRowCount") ?? 0) > 0;
  const headings: string[] = [];
  let filter: Filter | null = null;
  eachChild(xml, () => {
    if (xml.name === "autoFilter") readFilter(xml, (found) => (filter = found));
    else if (xml.name === "tableColumns") {
      eachChild(xml, () => {
        if (xml.name === "tableColumn") headings.push(shownText(attribute(xml, "name") ?? ""));
      });
    }
  });
  while (next(xml));
  return { path, id, table: { name, area, headings, totalsRow }, filter };
}
