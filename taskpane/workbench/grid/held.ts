import type { IRange, Univer } from "@univerjs/core";
import type { FUniver } from "@univerjs/core/facade";
import { FormulaDataModel } from "@univerjs/engine-formula";
import type { Definition } from "../../../functions/define.ts";
import type { GridEvents } from "../sheets.ts";

/** The library at work, and what it shows now. */
export interface Held {
  readonly univer: Univer;
  readonly api: FUniver;
  readonly functions: readonly Definition[];
  readonly events: GridEvents;
  unit: string;
  /** Names of the sheets; the library knows them by their place in this list. */
  names: readonly string[];
  /** Names of protected sheets. */
  shut: ReadonlySet<string>;
  /** Nothing is told while a book is put in. */
  quiet: boolean;
  /** The book is about to go: nothing may be typed into it any more. */
  leaving: boolean;
  /** Sentences of errors, by sheet and cell. */
  readonly faults: Map<string, string>;
  /** Areas that formulas fill, by sheet, as they were told last. */
  readonly filled: Map<string, readonly IRange[]>;
}

/** The library's own name for a sheet. */
export function idOf({ names }: Held, sheet: string): string {
  return `s${names.findIndex((name) => name.toLowerCase() === sheet.toLowerCase())}`;
}

/** The name of a sheet the library names. */
export function nameOf({ names }: Held, id: string): string {
  return names[Number(id.slice(1))] ?? "";
}

/** The library's account of formulas and the cells they fill. */
export function model({ univer }: Held): FormulaDataModel {
  return univer.__getInjector().get(FormulaDataModel);
}

/** Areas that formulas fill, by sheet. */
export function spillsOf(held: Held): Map<string, IRange[]> {
  const found = new Map<string, IRange[]>();
  const book: Readonly<Record<string, Matrix<IRange> | null | undefined>> =
    model(held).getArrayFormulaRange()[held.unit] ?? {};
  for (const [id, rows] of Object.entries(book)) {
    const areas = Object.values(rows ?? {}).flatMap((line) => Object.values(line ?? {}));
    found.set(id, areas);
  }
  return found;
}

/** Something by row and column, with gaps. */
export type Matrix<T> = Readonly<Record<number, Readonly<Record<number, T>> | null | undefined>>;
