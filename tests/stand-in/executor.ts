import type { BookModel } from "./model.ts";
import { Fault, isThing, member, type Thing } from "./thing.ts";
import { workbookThing } from "./workbook.ts";

/** Bytes a request to Excel on the web may have, and its answer. */
const MOST_BYTES = 5_000_000;

/** A request as the platform's script sends it. */
export interface Request {
  readonly Actions: readonly Action[];
  readonly ObjectPaths: Readonly<Record<string, Path>>;
}

interface Given {
  readonly Arguments?: readonly unknown[];
  /** Where an argument is an object, the id of its path. */
  readonly ReferencedObjectPathIds?: readonly (number | null)[];
}

interface Action {
  readonly Id: number;
  readonly ActionType: number;
  readonly Name: string;
  readonly ObjectPathId: number;
  readonly ArgumentInfo?: Given;
  readonly QueryInfo?: { readonly Select?: readonly string[] };
}

interface Path {
  readonly Id: number;
  readonly ObjectPathType: number;
  readonly Name: string;
  readonly ParentObjectPathId?: number;
  readonly ArgumentInfo?: Given;
}

/** The platform's numbers for kinds of actions and paths. */
const ACTION = { instantiate: 1, query: 2, method: 3, setProperty: 4, trace: 5 } as const;
const PATH = { global: 1, method: 3, property: 4, indexer: 5, reference: 6, nothing: 7 } as const;

/** What went over the wire so far. */
interface Tally {
  syncs: number;
  actions: number;
  bytes: number;
  largest: number;
  /** Bytes of the largest answer. */
  largestAnswer: number;
  /** Milliseconds spent in here, which Excel would spend elsewhere. */
  spent: number;
  longest: number;
  /** Methods called and properties set, by name of object and member. */
  readonly used: Set<string>;
  /** Flags of each request. */
  readonly flags: number[];
}

/** The platform's answer to a request. */
interface Answer {
  readonly ErrorCode: string;
  readonly ErrorMessage: string;
  readonly HttpStatusCode: number;
  readonly Headers: object;
  readonly Body: object | null;
}

/** Takes requests and answers them from a workbook in memory. */
export interface Executor {
  readonly tally: Tally;
  /** Called before a request is worked off; what it throws is the platform's error. */
  before: (request: Request) => void;
  answer(flags: number, sent: Request): Answer;
}

/** An executor over a workbook. */
export function executorOver(book: BookModel): Executor {
  const kept = { references: new Map<string, Thing>(), kept: new WeakMap<Thing, string>() };
  const tally: Tally = {
    syncs: 0,
    actions: 0,
    bytes: 0,
    largest: 0,
    largestAnswer: 0,
    spent: 0,
    longest: 0,
    used: new Set(),
    flags: [],
  };
  const root = workbookThing(book);
  const executor: Executor = {
    tally,
    before: () => undefined,
    answer(flags, sent) {
      const began = performance.now();
      const text = JSON.stringify(sent);
      const size = new TextEncoder().encode(text).length;
      const request = JSON.parse(text) as Request;
      tally.syncs += 1;
      tally.actions += request.Actions.length;
      tally.bytes += size;
      tally.largest = Math.max(tally.largest, size);
      tally.flags.push(flags);
      book.now = began;
      const answer = limited(
        answered({ root, ...kept, tally, request, found: new Map() }, size, () => {
          // Whoever waits for the end of an editing is not answered before it.
          if (book.temper.isEditing) {
            throw new Fault("InvalidOperationInCellEditMode", "a cell is being edited");
          }
          executor.before(request);
        }),
        tally,
      );
      const spent = performance.now() - began;
      tally.spent += spent;
      tally.longest = Math.max(tally.longest, spent);
      return answer;
    },
  };
  return executor;
}

interface Run {
  readonly root: Thing;
  readonly references: Map<string, Thing>;
  readonly kept: WeakMap<Thing, string>;
  readonly tally: Tally;
  readonly request: Request;
  /** Objects of this request by the id of their path; null where there is none. */
  readonly found: Map<number, Thing | null>;
}

function answered(run: Run, size: number, before: () => void): Answer {
  const results: { readonly ActionId: number; readonly Value: unknown }[] = [];
  let at = 0;
  try {
    before();
    if (size > MOST_BYTES) {
      throw new Fault("RequestPayloadSizeLimitExceeded", `a request of ${size} bytes`);
    }
    for (; at < run.request.Actions.length; at += 1) {
      const action = run.request.Actions[at];
      if (action) results.push({ ActionId: action.Id, Value: done(run, action) });
    }
  } catch (error) {
    if (!(error instanceof Fault)) throw error;
    const fault = { Code: error.code, Message: error.message, Location: "", HttpStatusCode: 400 };
    return reply({ Results: results, TraceIds: [], Error: { ...fault, ActionIndex: at } });
  }
  return reply({ Results: results, TraceIds: [] });
}

/** An answer, or the platform's refusal of one that is too large. */
function limited(answer: Answer, tally: Tally): Answer {
  const size = new TextEncoder().encode(JSON.stringify(answer.Body)).length;
  if (size <= MOST_BYTES) {
    tally.largestAnswer = Math.max(tally.largestAnswer, size);
    return answer;
  }
  const code = "ResponsePayloadSizeLimitExceeded";
  const fault = { Code: code, Message: `an answer of ${size} bytes`, Location: "" };
  const error = { ...fault, HttpStatusCode: 400, ActionIndex: 0 };
  return reply({ Results: [], TraceIds: [], Error: error });
}

function reply(body: object): Answer {
  return { ErrorCode: "", ErrorMessage: "", HttpStatusCode: 200, Headers: {}, Body: body };
}

/** Works off one action; gives what the script wants to know of it. */
function done(run: Run, action: Action): unknown {
  const { ActionType, Name, ObjectPathId } = action;
  // A mark by which the script knows that all before it was done.
  if (ActionType === ACTION.trace) return null;
  const target = objectAt(run, ObjectPathId);
  if (ActionType === ACTION.instantiate) return target === null ? null : identity(run, target);
  if (target === null) return null;
  const name = lower(Name);
  if (ActionType === ACTION.query) return queried(target, action.QueryInfo?.Select ?? []);
  if (ActionType === ACTION.setProperty) {
    run.tally.used.add(`${target.kind}.${name}`);
    member(target.set, name, target.kind)(argumentsOf(run, action.ArgumentInfo)[0]);
    return null;
  }
  if (ActionType !== ACTION.method) throw new Fault("ApiNotFound", `action ${ActionType}`);
  if (name === "_KeepReference") {
    keep(run, target);
    return null;
  }
  if (name === "_RemoveReference" || name === "_RemoveAllReferences") return null;
  run.tally.used.add(`${target.kind}.${name}()`);
  const value = member(target.call, name, target.kind)(...argumentsOf(run, action.ArgumentInfo));
  return isThing(value) ? identity(run, value) : (value ?? null);
}

/** Keeps an object under a reference, so that it is found again in later requests. */
function keep({ references, kept }: Run, target: Thing): void {
  if (kept.has(target)) return;
  const reference = `kept${references.size}`;
  kept.set(target, reference);
  references.set(reference, target);
}

function identity({ kept }: Run, target: Thing): object {
  const reference = kept.get(target);
  return {
    ...(target.id === undefined ? {} : { Id: target.id }),
    ...(reference === undefined ? {} : { _ReferenceId: reference }),
  };
}

/** The object a path leads to, each looked up once a request. */
function objectAt(run: Run, id: number): Thing | null {
  const known = run.found.get(id);
  if (known !== undefined) return known;
  const path = run.request.ObjectPaths[String(id)];
  if (path === undefined) throw new Fault("InvalidObjectPath", `no path ${id}`);
  const object = walk(run, path);
  run.found.set(id, object);
  return object;
}

function walk(run: Run, path: Path): Thing | null {
  const { ObjectPathType: kind, Name, ParentObjectPathId } = path;
  if (kind === PATH.global) return Name === "" ? run.root : globalAt(run, Name);
  if (kind === PATH.nothing) return null;
  if (kind === PATH.reference) return globalAt(run, Name);
  const parent = objectAt(run, ParentObjectPathId ?? 0);
  if (parent === null) return null;
  const given = argumentsOf(run, path.ArgumentInfo);
  if (kind === PATH.indexer) {
    if (parent.item === undefined) throw new Fault("ApiNotFound", `${parent.kind} has no items`);
    return parent.item(given[0]);
  }
  const name = lower(Name);
  run.tally.used.add(kind === PATH.method ? `${parent.kind}.${name}()` : `${parent.kind}.${name}`);
  const value =
    kind === PATH.method
      ? member(parent.call, name, parent.kind)(...given)
      : member(parent.get, name, parent.kind)();
  if (value === null) return null;
  if (!isThing(value)) throw new Fault("InvalidObjectPath", `${parent.kind}.${name}`);
  return value;
}

function globalAt({ references, root }: Run, name: string): Thing {
  const kept = references.get(name);
  if (kept !== undefined) return kept;
  if (name === "") return root;
  throw new Fault("InvalidReference", `nothing is kept as ${name}`);
}

function argumentsOf(run: Run, info: Given | undefined): unknown[] {
  return (info?.Arguments ?? []).map((value, at) => {
    const path = info?.ReferencedObjectPathIds?.[at] ?? 0;
    if (path !== 0) return objectAt(run, path);
    return value ?? undefined;
  });
}

/** The answer to a load: the members asked for, by the script's names. */
function queried(target: Thing, select: readonly string[]): object {
  if (select.length === 0) throw new Fault("InvalidArgument", `load of all of ${target.kind}`);
  if (target.items !== undefined) {
    return { _Items: target.items().map((item) => queried(item, select)) };
  }
  const answer: Record<string, unknown> = target.id === undefined ? {} : { Id: target.id };
  const deeper = new Map<string, string[]>();
  for (const path of select) {
    const [first = "", ...rest] = path.split("/");
    if (rest.length > 0) deeper.set(first, [...(deeper.get(first) ?? []), rest.join("/")]);
    else answer[upper(first)] = member(target.get, first, target.kind)();
  }
  for (const [name, paths] of deeper) {
    const inner = member(target.get, name, target.kind)();
    if (!isThing(inner)) throw new Fault("InvalidArgument", `${target.kind}.${name}`);
    answer[upper(name)] = queried(inner, paths);
  }
  return answer;
}

function lower(name: string): string {
  return name.startsWith("_") ? name : name.charAt(0).toLowerCase() + name.slice(1);
}

function upper(name: string): string {
  return name.charAt(0).toUpperCase() + name.slice(1);
}
