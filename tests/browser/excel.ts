// An Excel in the page: its own script, loaded before, over a workbook in memory. The built pane follows.
import { DEMO_SEED, demoBook } from "../../src/book/demo/workbook.ts";
import { onPaper } from "../../taskpane/paper.ts";
import { emptyPaper } from "../taskpane/paper.ts";
import { installStandIn, type Page } from "../stand-in/install.ts";
import { modelOf } from "../stand-in/model.ts";

const book = modelOf(onPaper(emptyPaper(), demoBook(DEMO_SEED, false).plan));
const page = globalThis as typeof globalThis & Page;
const known: string[] = [];

Object.assign(globalThis, {
  book,
  known,
  standIn: installStandIn(page, book),
  CustomFunctions: { associate: (id: string) => known.push(id) },
  Office: {
    onReady: () => Promise.resolve({ host: "Excel" }),
    context: {
      contentLanguage: "de-DE",
      requirements: { isSetSupported: () => false },
    },
  },
});
