// An Excel in the page: its own script, loaded before, over a workbook in memory. The built pane follows.
import { DEMO_SEED, demoBook } from "../../src/book/demo/workbook.ts";
import { onPaper } from "../../taskpane/paper.ts";
import { emptyPaper } from "../taskpane/paper.ts";
import { installStandIn, type Page } from "../stand-in/install.ts";
import { modelOf } from "../stand-in/model.ts";
import type { Temper } from "../stand-in/temper.ts";

/** What a test says before of the Excel it wants. */
interface Wanted {
  readonly temper?: Partial<Temper>;
  readonly platform?: string;
  /** Ground of Excel's theme, such as #262626. */
  readonly ground?: string;
  /** The latest version of each set that is there. */
  readonly sets?: Readonly<Record<string, number>>;
}

const { wanted = {} } = globalThis as typeof globalThis & { readonly wanted?: Wanted };
const book = modelOf(onPaper(emptyPaper(), demoBook(DEMO_SEED, false).plan), wanted.temper);
const page = globalThis as typeof globalThis & Page;
const known: string[] = [];
const handlers: Record<string, unknown> = {};
const watching: ((message: { readonly visibilityMode: string }) => void)[] = [];

/** Excel's own script asks too, for sets of its own and with numbers. */
const isSetSupported = (set: string, version: string | number = "1.1"): boolean =>
  Number(String(version).split(".")[1]) <= (wanted.sets?.[set] ?? 0);

Object.assign(globalThis, {
  book,
  known,
  handlers,
  watching,
  standIn: installStandIn(page, book),
  CustomFunctions: {
    associate: (id: string, handler: unknown) => {
      known.push(id);
      handlers[id] = handler;
    },
  },
  Office: {
    onReady: () => Promise.resolve({ host: "Excel" }),
    VisibilityMode: { hidden: "Hidden", taskpane: "Taskpane" },
    StartupBehavior: { none: "None", load: "Load" },
    addin: {
      getStartupBehavior: () => Promise.resolve("None"),
      setStartupBehavior: () => Promise.resolve(),
      onVisibilityModeChanged: (heard: (typeof watching)[number]) => {
        watching.push(heard);
        return Promise.resolve(() => Promise.resolve());
      },
    },
    context: {
      contentLanguage: "de-DE",
      displayLanguage: "en-GB",
      platform: wanted.platform ?? "PC",
      diagnostics: { host: "Excel", platform: wanted.platform ?? "PC", version: "16.0.1" },
      requirements: { isSetSupported },
      ...(wanted.ground === undefined
        ? {}
        : { officeTheme: { bodyBackgroundColor: wanted.ground } }),
    },
  },
});
