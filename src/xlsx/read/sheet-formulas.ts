import { cellAt } from "../../book/workbook/snapshot.ts";
import { expanded, type SharedFormula, shownFormula } from "./formulas.ts";

/**
 * The formulas of a sheet by the keys of their cells, as people read them. A column of a hundred thousand rows
 * shares one formula: what each cell has of it is written out when somebody asks for it.
 */
export class SheetFormulas implements ReadonlyMap<number, string> {
  readonly #held = new Map<number, string | SharedFormula>();

  get size(): number {
    return this.#held.size;
  }

  /** Notes a cell's formula as the file stores it, or the one it shares. */
  put(key: number, formula: string | SharedFormula): void {
    this.#held.set(key, typeof formula === "string" ? shownFormula(formula) : formula);
  }

  get(key: number): string | undefined {
    const held = this.#held.get(key);
    return held === undefined ? undefined : textOf(key, held);
  }

  /** Whether the cell has this text as its own share of a formula, which need not be written out for that. */
  shares(key: number, { row, column, text }: SharedFormula): boolean {
    const held = this.#held.get(key);
    return (
      typeof held === "object" && held.row === row && held.column === column && held.text === text
    );
  }

  has(key: number): boolean {
    return this.#held.has(key);
  }

  keys(): MapIterator<number> {
    return this.#held.keys();
  }

  *values(): MapIterator<string> {
    for (const [, text] of this.entries()) yield text;
  }

  *entries(): MapIterator<[number, string]> {
    for (const [key, held] of this.#held) yield [key, textOf(key, held)];
  }

  [Symbol.iterator](): MapIterator<[number, string]> {
    return this.entries();
  }

  forEach(visit: (text: string, key: number, all: ReadonlyMap<number, string>) => void): void {
    for (const [key, text] of this) visit(text, key, this);
  }
}

function textOf(key: number, held: string | SharedFormula): string {
  if (typeof held === "string") return held;
  const { row, column } = cellAt(key);
  return shownFormula(expanded(held, row, column));
}
