import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import vm from "node:vm";
import { installStandIn, type Page, type StandIn } from "./install.ts";
import type { BookModel } from "./model.ts";

const SCRIPT = resolve("node_modules/@microsoft/office-js/dist/excel-win32-16.01.js");
const nothing = (): void => undefined;

/** As much of a page as the platform's script asks for while it loads. */
export function bareWindow(): Record<string, unknown> {
  const location = { href: "https://pane.example/", search: "", hash: "", protocol: "https:" };
  const storage = { getItem: () => null, setItem: nothing, removeItem: nothing };
  const document = {
    createElement: () => ({ setAttribute: nothing, style: {} }),
    getElementsByTagName: () => [],
    getElementById: () => null,
    addEventListener: nothing,
    location,
    URL: location.href,
    head: { appendChild: nothing },
    documentElement: {},
    cookie: "",
  };
  const page = {
    document,
    location,
    navigator: { userAgent: "node", language: "en" },
    localStorage: storage,
    sessionStorage: storage,
    setTimeout,
    clearTimeout,
    console,
    Promise,
    performance,
    addEventListener: nothing,
    removeEventListener: nothing,
    external: {},
    OSFPerformance: new Proxy({}, { get: () => () => 0, set: () => true }),
  };
  return Object.assign(page, { window: page, self: page });
}

let loaded: Page | null = null;

/** The set of Excel's interface that the manifest asks for, such as 1.13. */
function askedFor(): string {
  const manifest = readFileSync(resolve("manifest.xml"), "utf8");
  return /<Set Name="ExcelApi" MinVersion="([0-9.]+)"/.exec(manifest)?.[1] ?? "1.1";
}

/** An Excel that knows no later set: its script then refuses what came after. */
function officeKnowing(version: string): object {
  const isSetSupported = (name: string, asked: string | number = "1.1"): boolean =>
    name !== "ExcelApi" || minorOf(String(asked)) <= minorOf(version);
  return { context: { requirements: { isSetSupported } } };
}

function minorOf(version: string): number {
  return Number(version.split(".")[1] ?? 0);
}

/**
 * Excel's own script, loaded once, over a workbook in memory; `Excel` is global as in a page. It is as old
 * as the manifest allows, so whatever needs a newer one fails here too.
 */
export function standInFor(book: BookModel, version = askedFor()): StandIn {
  if (loaded === null) {
    const page = bareWindow();
    vm.createContext(page);
    vm.runInContext(readFileSync(SCRIPT, "utf8"), page);
    loaded = page as unknown as Page;
    Object.assign(globalThis, { Excel: loaded.Excel });
  }
  Object.assign(loaded, { Office: officeKnowing(version) });
  // The script can look by itself whether a member is too new; a real Excel looks when it is asked.
  loaded.OfficeExtension.CommonUtility._doApiNotSupportedCheck = true;
  return installStandIn(loaded, book);
}
