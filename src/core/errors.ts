/** A value given by the caller cannot be used: what it is called, what it must be, what came. */
export class InputError extends Error {
  override readonly name = "InputError";
  readonly argument: string;

  constructor(argument: string, requirement: string, got: unknown) {
    super(`${argument} must be ${requirement}, got ${show(got)}`);
    this.argument = argument;
  }
}

/** The values are usable but too few for an answer; the message is the reason. */
export class NoAnswerError extends Error {
  override readonly name = "NoAnswerError";
}

/**
 * Refuses an amount below zero, or what is no number.
 *
 * @param argument What the caller calls it.
 * @param value The amount.
 * @returns Nothing.
 * @throws InputError if it is.
 * @example
 * requireNotBelowZero("price", 0) // => undefined
 */
export function requireNotBelowZero(argument: string, value: number): void {
  if (!(Number.isFinite(value) && value >= 0)) {
    throw new InputError(argument, "zero or more", value);
  }
}

/**
 * Refuses what is not a number above 0.
 *
 * @param argument What the caller calls it.
 * @param value The number.
 * @returns Nothing.
 * @throws InputError if it is not.
 * @example
 * requireAbove("months", 5) // => undefined
 */
export function requireAbove(argument: string, value: number): void {
  if (!(Number.isFinite(value) && value > 0)) throw new InputError(argument, "above 0", value);
}

const LONGEST_SHOWN = 40;

function show(got: unknown): string {
  if (got === null || got === undefined || got === "") return "a blank cell";
  if (typeof got === "number" || typeof got === "boolean") return String(got);
  if (typeof got !== "string") return Array.isArray(got) ? "a range" : "something else";
  return got.length > LONGEST_SHOWN ? `"${got.slice(0, LONGEST_SHOWN)}…"` : `"${got}"`;
}
