/** A check value from outside: where it stands, what goes in, what must come out. */
export interface Published<Given, Value = number> {
  /** Work and place in it, and whether it was read or is from memory. The check's title. */
  readonly source: string;
  readonly given: Given;
  readonly value: Value;
  /** Decimals printed; half a unit of the last one is allowed. Without it the value is exact. */
  readonly decimals?: number;
}
