import { civilDate, civilDay, fromSerial, isoText, toSerial } from "../../../src/core/day.ts";
import type { CellValue, Snapshot } from "../../../src/book/workbook/snapshot.ts";
import { type Input, withCell, withRowHidden, withRowTwice } from "./inputs.ts";

/** A book in which one input has gone wrong. */
interface Perturbed {
  readonly snapshot: Snapshot;
  /** What the cell holds now; undefined where it is not the cell that changed. */
  readonly value: CellValue | undefined;
}

/** What goes wrong with one input; null where it cannot go wrong with this one. */
type Change = (snapshot: Snapshot, input: Input) => Perturbed | null;

/** A change of the cell alone. */
function cell(
  change: (value: CellValue, input: Input, snapshot: Snapshot) => CellValue | undefined,
): Change {
  return (snapshot, input) => {
    const value = change(input.value, input, snapshot);
    return value === undefined || Object.is(value, input.value)
      ? null
      : { snapshot: withCell(snapshot, input, value), value };
  };
}

function numbers(change: (value: number) => number): Change {
  return cell((value, { isDate }) =>
    typeof value === "number" && !isDate ? change(value) : undefined,
  );
}

function days(change: (day: number) => number): Change {
  return cell((value, { isDate }) =>
    typeof value === "number" && isDate ? change(value) : undefined,
  );
}

function texts(change: (text: string) => string): Change {
  return cell((value) => (typeof value === "string" ? change(value) : undefined));
}

/** Every way in which one input goes wrong. */
export const PERTURBATIONS: Readonly<Record<string, Change>> = {
  blank: cell(() => null),
  text: cell(() => "ask"),
  "number in text": cell((value, { isDate }) =>
    typeof value === "number" && !isDate ? String(value) : undefined,
  ),
  "date in text": cell((value, { isDate }, { dateSystem }) => {
    const date = typeof value === "number" && isDate ? fromSerial(value, dateSystem) : null;
    return date === null ? undefined : isoText(date);
  }),
  "number with a unit": cell((value, { isDate }) =>
    typeof value === "number" && !isDate ? `${value} pieces` : undefined,
  ),
  "cell error": cell(() => ({ error: "#N/A" })),
  boolean: cell(() => true),
  negative: numbers((value) => -value),
  "negative zero": numbers(() => -0),
  zero: cell((value) => (typeof value === "number" ? 0 : undefined)),
  "ten times": numbers((value) => value * 10),
  "a tenth": numbers((value) => (Number.isInteger(value) ? Math.floor(value / 10) : value / 10)),
  "future date": days((day) => day + 900),
  "date far past": days((day) => day - 9000),
  "day and month swapped": cell((value, { isDate }, { dateSystem }) => {
    const date = typeof value === "number" && isDate ? fromSerial(value, dateSystem) : null;
    if (date === null) return undefined;
    const { year, month, dayOfMonth } = civilDate(date);
    if (dayOfMonth > 12 || dayOfMonth === month) return undefined;
    return toSerial(civilDay(year, dayOfMonth, month), dateSystem);
  }),
  "later date": days((day) => day + 21),
  "other case": texts((text) =>
    text === text.toLowerCase() ? text.toUpperCase() : text.toLowerCase(),
  ),
  "other spelling": texts((text) => `${text.slice(0, -1)}${text.slice(-1)}${text.slice(-1)}`),
  "invisible characters": texts((text) => `\u200b${text}\u00a0`),
  "spaces around": texts((text) => ` ${text}  `),
  "unknown word": texts(() => "qwert"),
  "row twice": (snapshot, input) => ({
    snapshot: withRowTwice(snapshot, input),
    value: undefined,
  }),
  "hidden row": (snapshot, input) => ({
    snapshot: withRowHidden(snapshot, input, "hand"),
    value: undefined,
  }),
  "filtered row": (snapshot, input) => ({
    snapshot: withRowHidden(snapshot, input, "filter"),
    value: undefined,
  }),
};
