import { DEMO_SEED, demoBook } from "../../src/book/demo/workbook.ts";
import { type Area, areaText, type Snapshot } from "../../src/book/workbook/snapshot.ts";
import { strFromU8, strToU8, unzipSync, zipSync } from "fflate";
import { newWorkbook, openWorkbook } from "../../src/xlsx/index.ts";

/** What a filter over the demonstration's register is like. */
export interface OwnFilter {
  /** Columns of the register that it covers, fewer than all where given. */
  readonly columns?: number;
  readonly active?: boolean;
}

const EQUIPMENT = "xl/worksheets/sheet1.xml";

/** The demonstration with a filter of the user's own over its register, as Excel stores one. */
export function filteredBook({ columns, active = false }: OwnFilter = {}): {
  readonly bytes: Uint8Array;
  readonly area: Area;
} {
  const plain = newWorkbook(demoBook(DEMO_SEED, false).plan);
  const [sheet] = openWorkbook(plain).snapshot.sheets;
  if (sheet === undefined) throw new Error("the demonstration has no sheet");
  const firstRow = sheet.values.findIndex((row) => row.length > 2 && row[1] !== null);
  const width = columns ?? sheet.values[firstRow]?.length ?? 1;
  const area = {
    firstRow,
    firstColumn: 0,
    lastRow: sheet.values.length - 1,
    lastColumn: width - 1,
  };
  const ref = areaText(area);
  const fixed = ref.replaceAll(/[A-Z]+|\d+/g, "$$$&");
  const parts = unzipSync(plain);
  const put = (path: string, from: RegExp, to: string): void => {
    const text = strFromU8(parts[path] ?? new Uint8Array());
    if (!from.test(text)) throw new Error(`${path} has no ${from.source}`);
    parts[path] = strToU8(text.replace(from, () => to));
  };
  const criterion =
    '<filterColumn colId="0"><filters><filter val="VR-101"/></filters></filterColumn>';
  const sorted = areaText({ ...area, firstRow: firstRow + 1 });
  const inside = active ? criterion : `<sortState ref="${sorted}"/>`;
  put(EQUIPMENT, /<\/sheetData>/, `</sheetData><autoFilter ref="${ref}">${inside}</autoFilter>`);
  const name = `<definedName name="_xlnm._FilterDatabase" localSheetId="0" hidden="1">'${sheet.name}'!${fixed}</definedName>`;
  put("xl/workbook.xml", /<definedNames>/, `<definedNames>${name}`);
  return { bytes: zipSync(parts), area };
}

/** The text of a part of a workbook. */
export function partText(bytes: Uint8Array, path: string): string {
  return strFromU8(unzipSync(bytes)[path] ?? new Uint8Array());
}

/** The filter of the register. */
export function filterOf({ sheets }: Snapshot): Area | null {
  return sheets[0]?.filter?.area ?? null;
}
