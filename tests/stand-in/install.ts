import { type Executor, executorOver, type Request } from "./executor.ts";
import { type BookModel, type SheetModel } from "./model.ts";

/** What of the page the platform's script has put there. */
export interface Page {
  readonly Excel: { run: (...given: readonly unknown[]) => Promise<unknown> };
  readonly OfficeExtension: {
    readonly SessionBase: { _overrideSession: unknown };
    readonly CommonUtility: { _doApiNotSupportedCheck: boolean };
  };
  OSF?: unknown;
}

/** A page whose Excel is a workbook in memory. */
export interface StandIn {
  readonly executor: Executor;
  /** Tells the listeners that cells of a sheet were changed by somebody. */
  readonly changed: (sheet: SheetModel, address: string, source: "Local" | "Remote") => void;
}

/** The script of a page asks for events once, whatever workbook is put behind it later. */
const listeners = new WeakMap<Page, Set<(message: Message) => void>>();

interface Message {
  readonly entries: readonly object[];
}

/** The platform's numbers for an event of the workbook and for changed cells. */
const EVENT = { category: 65_536, changed: 10, target: "Workbook" } as const;

/** The platform's flag of a request that waits until no cell is edited. */
const WAITS_FOR_EDITING = 64;

/** Puts a workbook in memory behind the platform's own script of a page. */
export function installStandIn(page: Page, book: BookModel): StandIn {
  const executor = executorOver(book);
  const heard = listeners.get(page) ?? new Set();
  listeners.set(page, heard);
  page.OfficeExtension.SessionBase._overrideSession = {
    _createRequestExecutorOrNull: () => ({
      executeAsync: (_: unknown, flags: number, { Body }: { readonly Body: Request }) =>
        new Promise((resolve) => {
          // A real host answers later, never at once.
          const answer = (): void => {
            const waits = book.temper.isEditing && (flags & WAITS_FOR_EDITING) !== 0;
            if (waits) setTimeout(answer, 5);
            else resolve(executor.answer(flags, Body));
          };
          setTimeout(answer);
        }),
    }),
    _resolveRequestUrlAndHeaderInfo: () => Promise.resolve(null),
  };
  const manager = {
    register: (listener: (message: Message) => void) => {
      heard.add(listener);
      return Promise.resolve();
    },
  };
  page.OSF = { DDA: { RichApi: { richApiMessageManager: manager } } };
  return {
    executor,
    changed: ({ id }, address, source) => {
      const message = JSON.stringify({
        type: "WorksheetChanged",
        changeType: "RangeEdited",
        worksheetId: id,
        address,
        source,
      });
      const entry = {
        messageCategory: EVENT.category,
        messageType: EVENT.changed,
        targetId: EVENT.target,
        message,
      };
      for (const listener of heard) listener({ entries: [entry] });
    },
  };
}
