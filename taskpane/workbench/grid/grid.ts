import { FUniver } from "@univerjs/core/facade";
import { FormulaCalculationSessionService } from "@univerjs/sheets-formula";
import { ILayoutService } from "@univerjs/ui";
import type { Definition } from "../../../functions/define.ts";
import type { Place } from "../../host.ts";
import type { Grid, GridBook, GridEvents } from "../sheets.ts";
import { keptBook } from "./cells.ts";
import { extras } from "./extras.ts";
import { registerFunctions } from "./functions.ts";
import { listen } from "./hear.ts";
import { guardKeyboard, isOfGrid } from "./invited.ts";
import { type Held, idOf, spillsOf } from "./held.ts";
import { newLibrary } from "./library.ts";
import { cellIn, selected } from "./look.ts";
import { nameParts } from "./names.ts";

/** Makes the grid inside an element. */
export function makeGrid(
  container: HTMLElement,
  functions: readonly Definition[],
  events: GridEvents,
): Grid {
  const univer = newLibrary(container);
  nameParts(container);
  const api = FUniver.newAPI(univer);
  const held: Held = {
    univer,
    api,
    functions,
    events,
    unit: "",
    names: [],
    shut: new Set(),
    quiet: true,
    leaving: false,
    faults: new Map(),
    filled: new Map(),
  };
  const keyboard = guardKeyboard(container);
  // The library takes functions only once it has a book.
  api.createWorkbook({ id: "none", name: "none" });
  held.unit = "none";
  registerFunctions(held);
  listen(held);
  let loading: Promise<unknown> = Promise.resolve();
  return {
    load(book) {
      // One after the other: each has to see the book of the one before go.
      const loaded = loading.then(() => load(held, book)).then(keyboard.rest);
      loading = loaded.catch(() => undefined);
      return loaded;
    },
    cell: (sheet, row, column) => cellIn(held, sheet, row, column),
    settled: () => settled(held),
    select: (place) => {
      select(held, place);
    },
    has: (element) => isOfGrid(container, element),
    focus: () => {
      keyboard.invite();
      univer.__getInjector().get(ILayoutService).focus();
    },
    selected: () => selected(held)?.place ?? null,
    selectedArea: () => selected(held)?.block ?? null,
  };
}

async function load(held: Held, { snapshot, view }: GridBook): Promise<void> {
  const at = selected(held)?.place ?? null;
  held.quiet = true;
  held.faults.clear();
  held.filled.clear();
  held.names = snapshot.sheets.map(({ name }) => name);
  held.shut = new Set(snapshot.sheets.flatMap((one) => (one.protected ? [one.name] : [])));
  const { sheets, styles } = keptBook({ snapshot, view });
  const parts = snapshot.sheets.map((sheet, index) => {
    const shown = view.sheets[index];
    const { rows = 0, columns = 0 } = shown?.frozen ?? {};
    return {
      ...sheets[index],
      id: `s${index}`,
      name: sheet.name,
      hidden: sheet.visibility === "visible" ? 0 : 1,
      freeze: { xSplit: columns, ySplit: rows, startRow: rows || -1, startColumn: columns || -1 },
    };
  });
  held.leaving = true;
  await idle();
  held.leaving = false;
  held.api.disposeUnit(held.unit);
  held.unit = `book ${String((loadCount += 1))}`;
  held.api.createWorkbook({
    id: held.unit,
    name: "book",
    styles,
    sheetOrder: parts.map(({ id }) => id),
    sheets: Object.fromEntries(parts.map((part) => [part.id, part])),
    resources: extras(
      snapshot.names,
      parts.flatMap(({ id }, index) => {
        const shown = view.sheets[index];
        const { formulas = new Map<number, string>() } = snapshot.sheets[index] ?? {};
        return shown ? [{ id, view: shown, formulas }] : [];
      }),
    ),
  });
  const due = sheets.some(({ waits }) => waits);
  await calculated(held, due ? BEGINNING.due : BEGINNING.none);
  if (at !== null && held.names.includes(at.sheet)) select(held, at);
  for (const [id, areas] of spillsOf(held)) held.filled.set(id, areas);
  held.quiet = false;
}

let loadCount = 0;

/** The library looks at choices a moment after a change, once it is idle: their book must still be there. */
const MOMENT = 30;

async function idle(): Promise<void> {
  await new Promise((done) => setTimeout(done, MOMENT));
  // Not every browser tells when it is idle; there a moment more must do.
  const whenIdle = globalThis.requestIdleCallback as typeof requestIdleCallback | undefined;
  await new Promise((done) => {
    if (whenIdle === undefined) setTimeout(done, MOMENT);
    else whenIdle(done, { timeout: 500 });
  });
}

/** Longest wait for the library to work out a book; after it the results are taken as they stand. */
const PATIENCE = 60_000;

/** How long the library may take to begin where there is something to work out, and where not (ms). */
const BEGINNING = { due: 1000, maybe: 500, none: 100 };

async function calculated({ univer }: Held, beginning: number): Promise<void> {
  await new Promise((done) => setTimeout(done, 0));
  const session = univer.__getInjector().get(FormulaCalculationSessionService);
  await session.waitForLatestApplied(PATIENCE, beginning).catch(() => undefined);
}

async function settled(held: Held): Promise<void> {
  await held.api.getActiveWorkbook()?.endEditingAsync(true);
  await calculated(held, BEGINNING.maybe);
}

function select(held: Held, { sheet, row, column }: Place): void {
  const book = held.api.getActiveWorkbook();
  const found = book?.getSheetBySheetId(idOf(held, sheet));
  if (!book || !found) return;
  book.setActiveSheet(found);
  found.getRange(row, column).activate();
  found.scrollToCell(Math.max(0, row - 5), Math.max(0, column - 3));
}
