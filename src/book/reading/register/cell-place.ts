import type { CellPlace } from "../../records/problems.ts";
import type { Found } from "./register.ts";

/** A cell of a register as a place. */
export function placeIn({ page, register }: Found, row: number, column: number): CellPlace {
  return { sheet: page.sheet.name, row, column, heading: register.headings[column] ?? "" };
}
