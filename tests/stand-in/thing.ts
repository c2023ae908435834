/** An error as the platform sends it: a code that programs read and a message for developers. */
export class Fault extends Error {
  override readonly name = "Fault";
  readonly code: string;
  constructor(code: string, message: string) {
    super(message);
    this.code = code;
  }
}

type Members<F> = Readonly<Record<string, F>>;

/** An object of the platform: what may be read, set and called; anything else is an error. */
export interface Thing {
  readonly kind: string;
  /** What tells it from others in its collection. */
  readonly id?: string;
  /** Values and further objects, by the platform's names. */
  readonly get?: Members<() => unknown>;
  readonly set?: Members<(value: unknown) => void>;
  readonly call?: Members<(...given: readonly unknown[]) => unknown>;
  /** A collection's members, and the one of a name or id. */
  readonly items?: () => readonly Thing[];
  readonly item?: (key: unknown) => Thing;
}

const things = new WeakSet();

/** Marks an object as one of the platform's. */
export function thing(made: Thing): Thing {
  things.add(made);
  return made;
}

/** Whether a value is an object of the platform rather than plain data. */
export function isThing(value: unknown): value is Thing {
  return typeof value === "object" && value !== null && things.has(value);
}

/** The member of that name; a mistyped or missing one is never passed over. */
export function member<F>(members: Members<F> | undefined, name: string, of: string): F {
  const found = members !== undefined && Object.hasOwn(members, name) ? members[name] : undefined;
  if (found === undefined) throw new Fault("ApiNotFound", `${of} has no ${name} here.`);
  return found;
}

/** An object that only keeps what is set in it, such as a font. */
export function bag(kind: string, names: readonly string[], kept: Map<string, unknown>): Thing {
  const at = (name: string): string => `${kind}.${name}`;
  return thing({
    kind,
    get: Object.fromEntries(names.map((name) => [name, () => kept.get(at(name)) ?? null])),
    set: Object.fromEntries(
      names.map((name) => [name, (value: unknown) => void kept.set(at(name), value)]),
    ),
  });
}

/** A text that was handed over. */
export function textOf(given: unknown): string {
  if (typeof given === "string") return given;
  throw new Fault("InvalidArgument", `a text must be given, got ${JSON.stringify(given)}`);
}

/** A whole number, zero or more, that was handed over. */
export function wholeOf(given: unknown): number {
  if (typeof given === "number" && Number.isInteger(given) && given >= 0) return given;
  throw new Fault("InvalidArgument", `a whole number must be given, got ${JSON.stringify(given)}`);
}

/** An object that was handed over. */
export function thingOf(given: unknown): Thing {
  if (isThing(given)) return given;
  throw new Fault("InvalidArgument", "an object of the workbook must be given");
}
