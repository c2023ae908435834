import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import vm from "node:vm";
import { bareWindow } from "../stand-in/script.ts";

/** A cell as it comes back: a plain value, or an error with its sentence. */
export type Cell = number | string | boolean | { readonly code: string; readonly message: string };

/** One call as Excel hands it over; an argument left out is null, or not there at the end. */
export interface Call {
  readonly id: string;
  readonly given: readonly (readonly (readonly unknown[])[] | null)[];
}

/** The part of a page that runs functions in cells, of one of Excel's scripts. */
export interface Runtime {
  /** What a page finds as CustomFunctions. */
  readonly offered: unknown;
  /** Answers calls that the host sends in one message; undefined where nothing is known under that name. */
  readonly answers: (calls: readonly Call[]) => Promise<readonly (readonly Cell[][] | undefined)[]>;
}

const FOLDER = resolve("node_modules/@microsoft/office-js/dist");

/** The kinds of messages between the host and its script: calls, and answers that are wanted. */
const [CALLS, CATEGORY, INVOCATION, ALLOWS_ERRORS] = [3, 1, 1000, 4];
const RESPONSE = 2;

interface Bridge {
  onMessageFromHost: ((text: string) => void) | null;
  readonly sendMessageToHost: (text: string) => void;
}

interface RuntimePage {
  readonly CustomFunctions: unknown;
  readonly OfficeExtension: { readonly HostBridge: { readonly init: (bridge: Bridge) => void } };
}

interface Told {
  readonly id: number;
  readonly message?: { readonly body?: { readonly Actions?: readonly Action[] } };
}

interface Action {
  readonly Id: number;
  readonly Name: string;
  readonly ArgumentInfo?: { readonly Arguments: readonly (readonly unknown[])[] };
}

/**
 * One of the three scripts, without a host. `inArrays`: the host takes answers in the short form, as later ones
 * do (CustomFunctions 1.7 in the script), or in the long form.
 */
export function runtimeOf(script: string, inArrays: boolean): Runtime {
  const page = bareWindow();
  vm.createContext(page);
  vm.runInContext(associationPart(), page);
  vm.runInContext(readFileSync(resolve(FOLDER, script), "utf8"), page);
  const isSetSupported = (name: string): boolean => inArrays || name !== "CustomFunctions";
  Object.assign(page, { Office: { context: { requirements: { isSetSupported } } } });
  // The script puts these two on the page it runs in, which the compiler cannot know.
  const { CustomFunctions: offered, OfficeExtension } = page as unknown as RuntimePage;
  const found = new Map<number, unknown>();
  const bridge: Bridge = {
    onMessageFromHost: null,
    sendMessageToHost: (text) => {
      const told = JSON.parse(text) as Told;
      for (const [id, value] of answersIn(told)) found.set(id, value);
      // The script sends no more answers until the host has taken these.
      setTimeout(() => bridge.onMessageFromHost?.(JSON.stringify(takenBy(told))), 0);
    },
  };
  OfficeExtension.HostBridge.init(bridge);
  let last = 0;
  return {
    offered,
    async answers(calls) {
      const first = last;
      last += calls.length;
      const entries = calls.map(({ id, given }, at) => ({
        messageCategory: CATEGORY,
        messageType: INVOCATION,
        message: JSON.stringify([first + at + 1, id, given, "Sheet1!A1", ALLOWS_ERRORS]),
      }));
      bridge.onMessageFromHost?.(JSON.stringify({ type: CALLS, message: { entries } }));
      const ids = calls.map((_, at) => first + at + 1);
      for (let tries = 0; tries < 100 && !ids.every((id) => found.has(id)); tries += 1) {
        await new Promise((resolved) => setTimeout(resolved, 10));
      }
      return ids.map((id) => found.get(id) as Cell[][] | undefined);
    },
  };
}

/** What office.js itself brings for functions in cells: the list by which names are led to them. */
function associationPart(): string {
  const office = readFileSync(resolve(FOLDER, "office.debug.js"), "utf8");
  const between = (from: string, to: string): string => {
    const at = office.indexOf(from);
    if (at < 0) throw new Error(`office.debug.js no longer holds ${from}`);
    return office.slice(at, office.indexOf(to, at));
  };
  return (
    `var OfficeExt = {}; (function (OfficeExt) {` +
    between("var Association = (function ()", "})(OfficeExt || (OfficeExt = {}));") +
    `})(OfficeExt);` +
    between("var CustomFunctionMappings = window.CustomFunctionMappings", "(function (Office) {")
  );
}

/** What the host says of a message it has taken. */
function takenBy({ id, message }: Told): object {
  const results = (message?.body?.Actions ?? []).map(({ Id }) => ({ ActionId: Id, Value: null }));
  const body = JSON.stringify({ Results: results });
  return { id, type: RESPONSE, message: { statusCode: 200, headers: {}, body } };
}

/** The answers of a message to the host; a failed one is none of ours, for errors are answers here. */
function answersIn({ message }: Told): [number, unknown][] {
  return (message?.body?.Actions ?? []).flatMap(({ Name, ArgumentInfo }): [number, unknown][] => {
    const all = ArgumentInfo?.Arguments[0] ?? [];
    if (Name === "SetInvocationArrayResults") {
      return (all as [number, boolean, unknown][]).map(([id, isDone, value]) => [
        id,
        isDone ? value : undefined,
      ]);
    }
    if (Name !== "SetInvocationResults") return [];
    return (all as { id: number; failed?: boolean; value: unknown }[]).map(
      ({ id, failed, value }) => [id, failed === true ? undefined : value],
    );
  });
}
