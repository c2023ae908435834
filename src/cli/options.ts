/** What follows an option: nothing, one text, or a text each time it is said. */
type Kind = "flag" | "text" | "texts";

const WHAT_IF = {
  volume: "text",
  interval: "texts",
  wipes: "texts",
  add: "texts",
  retire: "texts",
  wear: "text",
} as const satisfies Record<string, Kind>;

/** Options that only some commands take. */
const COMMAND_OPTIONS = {
  columns: { as: "text" },
  start: { as: "text", once: "flag", port: "text", "no-open": "flag" },
  ahead: { ...WHAT_IF, months: "text", level: "text", share: "text" },
  budget: { ...WHAT_IF, from: "text", births: "flag", level: "text", pool: "flag" },
  order: { ...WHAT_IF, pool: "flag" },
  evidence: { from: "text", to: "text", site: "texts" },
  lot: { device: "text" },
  rounds: { site: "texts", week: "text" },
  calendar: { site: "texts" },
  share: {
    separator: "text",
    bom: "text",
    pool: "flag",
    buyer: "text",
    seller: "text",
    number: "text",
    values: "flag",
  },
  log: {
    device: "text",
    job: "text",
    part: "text",
    date: "text",
    finding: "text",
    complete: "flag",
    lot: "text",
    by: "text",
    note: "text",
    again: "flag",
  },
} as const satisfies Record<string, Readonly<Record<string, Kind>>>;

type Options = typeof COMMAND_OPTIONS;
type KeysOf<T> = T extends unknown ? keyof T : never;

/** Name of an option that only some commands take. */
export type OptionName = Extract<KeysOf<Options[keyof Options]>, string>;

/** Every such option with its kind; the same name means the same everywhere. */
export const OWN_OPTIONS: ReadonlyMap<string, Kind> = new Map(
  Object.values(COMMAND_OPTIONS).flatMap((options) => Object.entries<Kind>(options)),
);

/** Whether a command takes an option. */
export function takes(command: string, option: string): boolean {
  return (
    Object.hasOwn(COMMAND_OPTIONS, command) &&
    Object.hasOwn(COMMAND_OPTIONS[command as keyof Options], option)
  );
}
