import type { Chance } from "../../src/book/demo/chance.ts";
import type { Edit, SheetCell } from "../../src/book/workbook/plan.ts";
import { address, type CellValue, sheetInFormula } from "../../src/book/workbook/snapshot.ts";
import { day, toSerial } from "../../src/core/day.ts";
import { FOREIGN, type Traits } from "./stranger-traits.ts";

/** The register's place and cells. */
export interface Placed {
  readonly sheet: string;
  readonly headerRow: number;
  readonly headings: readonly string[];
  readonly lines: readonly (readonly CellValue[])[];
}

/** Tables, names, rules and choices that stand on the register. */
export function companions(traits: Traits, { sheet, headerRow, headings, lines }: Placed): Edit[] {
  const area = {
    firstRow: headerRow,
    firstColumn: 0,
    lastRow: headerRow + lines.length,
    lastColumn: headings.length - 1,
  };
  const edits: Edit[] = [];
  if (traits.table) edits.push({ kind: "addTable", sheet, name: "OurKit", area, headings });
  if (traits.named) {
    const refersTo = `${sheetInFormula(sheet)}!$A$${headerRow + 1}:$B$${headerRow + 3}`;
    edits.push({ kind: "addName", name: "Kit_list", refersTo });
    edits.push({ kind: "addName", name: "SpareWheels", refersTo: "42" });
  }
  if (traits.dressed) {
    const body = { ...area, firstRow: headerRow + 1 };
    const formula = `$${address(headerRow + 1, 0)}=""`;
    const choices = { kind: "list", values: ["a", "b"] } as const;
    edits.push({ kind: "addRule", sheet, area: body, rules: [{ formula, look: { bold: true } }] });
    edits.push({ kind: "addChoices", sheet, area: body, choices, message: `${FOREIGN}.` });
  }
  return edits;
}

/** Monthly counts of a year, side by side or one below the other. */
export function countSheet(random: Chance, traits: Traits, ids: readonly CellValue[]): Edit[] {
  const months = Array.from({ length: 12 }, (_, at) =>
    toSerial(
      day(`${at < 6 ? 2025 : 2026}-${String(((at + 6) % 12) + 1).padStart(2, "0")}-01`),
      traits.system,
    ),
  );
  const devices = ids.filter((id) => id !== null);
  const count = (): CellValue => random.pick([random.below(60), random.below(60), null, "n/a"]);
  const lines: CellValue[][] =
    traits.counts === "wide"
      ? [["Device", ...months], ...devices.map((id) => [id, ...months.map(count)])]
      : [
          ["Device", "Month", "Uses"],
          ...devices.flatMap((id) => months.map((month) => [id, month, count()])),
        ];
  return traits.counts === "none" ? [] : [plainSheet("Sessions by month", lines, months)];
}

export function extraSheets(random: Chance, { extras }: Traits): Edit[] {
  const kinds: Edit[] = [
    plainSheet(
      "Suppliers",
      [
        ["Supplier", "Item", "Price"],
        [FOREIGN, "box", 12],
      ],
      [],
    ),
    plainSheet("Read me", [[`${FOREIGN}: how we keep this list`]], []),
    plainSheet("Scribbles", [[null, random.below(9)], [], [FOREIGN, null, true]], []),
  ];
  return kinds.slice(0, extras);
}

function plainSheet(
  sheet: string,
  lines: readonly (readonly CellValue[])[],
  dates: readonly number[],
): Edit {
  const cells = lines.flatMap((line, row) =>
    line.flatMap((value, column): SheetCell[] => {
      const dated = typeof value === "number" && dates.includes(value);
      return value === null ? [] : [{ row, column, value, ...(dated ? { format: "mmm yy" } : {}) }];
    }),
  );
  return { kind: "addSheet", sheet, cells, widths: [], freezeRows: 0 };
}
