import type { Part } from "../records/records.ts";
import { ownDueField, ownIntervalField } from "../records/own-limits.ts";
import { lastDoneTitle } from "../answers/titles.ts";

/** What the cells of a field's column hold. */
export type Holds = "id" | "text" | "date" | "number";

/** A field of the register: what people call it. Phrases are in the words of vocabulary.ts. */
export interface Field {
  readonly key: string;
  readonly title: string;
  readonly holds: Holds;
  readonly phrases: readonly string[];
  /** Phrases that may also mean something else: they weigh less. */
  readonly lesser: readonly string[];
  /** Phrases that count only when the column holds dates. */
  readonly dated: readonly string[];
}

/** Fields every register may have. */
const ALWAYS: readonly Field[] = [
  field("device", "Device", "id", {
    phrases: ["device", "device id", "device number", "unit id", "unit number", "inventory number"],
    lesser: [
      ...["id", "id number", "unit", "inventory", "screening device", "hearing screener id"],
      ...["screener", "screener number", "screener id", "hearing screener", "code"],
    ],
  }),
  field("site", "Site", "text", {
    phrases: ["site", "device site", "site code", "birthing site", "site name", "health site"],
    lesser: [
      ...["ward", "centre", "center", "birthing centre", "birthing center"],
      ...["maternity unit", "birth unit", "birthing unit"],
    ],
  }),
  field("model", "Model", "text", {
    phrases: ["model", "device model", "make model", "model name"],
    lesser: ["make device", "type"],
  }),
  field("serial", "Serial number", "text", {
    phrases: ["serial", "serial number", "device serial", "make serial"],
    lesser: [],
  }),
  field("commissioned", "Commissioned", "date", {
    phrases: [
      "commissioned",
      "device commissioned",
      "service since",
      "in service since",
      "installed",
      "device installed",
      "go live",
      "deployed",
      "service start",
      "deployed service",
      "deployed in service",
      "deployed into service",
      "deployed in uses",
      "in uses since",
      "first uses",
      "start date",
    ],
    lesser: ["purchased", "device purchased", "in service"],
  }),
  field("status", "Status", "text", {
    phrases: [
      "status",
      "device status",
      "operational status",
      "operating status",
      "in uses status",
    ],
    lesser: ["state", "device state", "condition", "device condition", "active", "in uses"],
  }),
  field("retiredOn", "Retired on", "date", {
    phrases: [
      "retired",
      "device retired",
      "out service",
      "out service date",
      "taken out service",
      "disposed",
      "device disposed",
      "written off",
      "end service",
      "end service date",
      "removed service",
      "removed from service",
    ],
  }),
  field("uses", "Uses a month", "number", {
    phrases: ["uses month", "device uses month", "average uses month", "uses device month"],
    lesser: ["uses", "average uses"],
  }),
  field("note", "Note", "text", {
    phrases: ["note", "device note", "general note", "other note"],
    lesser: [],
  }),
];

/** What the trade calls the parts a new programme starts with. */
const TRADE_NAMES: Readonly<Record<string, readonly string[]>> = {
  SET: [
    "contact electrode set",
    "contact electrode",
    "electrode set",
    "electrode",
    "contact set",
    "contact",
    "skin contact",
    "skin electrode",
    "sensor set",
    "sensor",
    "set",
  ],
  CUSHION: ["ear cushion", "cushion", "ear pad", "earpad", "ear coupler", "coupler", "ear cup"],
  CALIBRATION: [
    "calibration",
    "device calibration",
    "electrical safety uses",
    "safety uses",
    "safety check",
  ],
};
const MORE_CUSHION = ["cup", "ear muff", "muff", "headphone cushion"];
/** Too common a word to stand for the part beside "last" or "date" alone. */
const COMMON = new Set(["contact", "set", "sensor", "cup"]);

/** How a register says when a part is next due, and how often it is replaced. */
const DUE_WORDS = [
  ...["next due", "next replaced", "replaced due", "next replaced due", "valid until", "until"],
  ...["replaced until", "expires"],
];
const TASK_ENDS = ["due until", "expiry"];
const INTERVAL_WORDS = ["interval", "every", "frequency", "life", "cycle"];

const DONE_TO_PART = ["replaced", "installed", "last replaced", "in uses since"];
const DONE_TO_TASK = ["", "date", "last", "done", "last done", "last date"];

/** The fields of a register that follows these parts. */
export function fieldsFor(parts: readonly Part[]): Field[] {
  const wearing = parts.filter((part) => !part.task);
  const fields = parts.flatMap((part) => {
    const names = partNames(part, parts);
    return [
      lastField(part, names, wearing.length === 1),
      findingField(part, names, wearing),
      dueField(part, names),
      intervalField(part, names),
    ];
  });
  return [...ALWAYS, ...fields];
}

/** What a column is called that says "last replaced" without saying which part. */
export const ANY_PART: Field = field("last", "Last replaced", "date", {
  phrases: ["last replaced", "replaced", "replaced date", "part replaced", "last part replaced"],
  lesser: [],
});

/** What a column is called that says "next due" without saying of which part. */
export const ANY_DUE: Field = field("due", "Own next due", "date", {
  phrases: ["due", "next", "planned", ...DUE_WORDS],
});

/** The same of an interval. */
export const ANY_INTERVAL: Field = field("every", "Own interval", "text", {
  phrases: [...INTERVAL_WORDS, ...INTERVAL_WORDS.map((word) => `replaced ${word}`)],
});

/** What people call a part, in the words of vocabulary.ts. */
export function partNames(part: Part, parts: readonly Part[]): string[] {
  const trade = tradeNames(part);
  const others = parts.filter((other) => other !== part).map((other) => other.name.toLowerCase());
  // A part of the programme's own name goes before a trade word for another part.
  const free = trade.filter(
    (name) => !others.some((other) => other.includes(name.split(" ")[0] ?? name)),
  );
  return [part.name.toLowerCase(), ...free];
}

/** By its code, or by its name where a programme gave it another code. */
function tradeNames({ code, name, task }: Part): readonly string[] {
  const said = name.toLowerCase();
  const by = Object.entries(TRADE_NAMES).find(
    ([trade, names]) =>
      code === trade || (!task && names.some((one) => !COMMON.has(one) && said.startsWith(one))),
  );
  const [trade = "", names = []] = by ?? [];
  return trade === "CUSHION" ? [...names, ...MORE_CUSHION] : names;
}

function lastField(part: Part, names: readonly string[], only: boolean): Field {
  const done = part.task ? DONE_TO_TASK : DONE_TO_PART;
  const phrases = names.flatMap((name) =>
    done
      .filter((word) => !COMMON.has(name) || !word.includes("last"))
      .map((word) => `${name} ${word}`.trim()),
  );
  const plain = names.filter((name) => !COMMON.has(name));
  const lesser = part.task
    ? []
    : plain.flatMap((name) =>
        ["date", "last date", "new", "done"].map((word) => `${name} ${word}`),
      );
  return field(`last:${part.code}`, lastDoneTitle(part), "date", {
    phrases: only && !part.task ? [...phrases, ...ANY_PART.phrases] : phrases,
    lesser,
    dated: part.task ? [] : [...plain, ...plain.map((name) => `${name} last`)],
  });
}

function dueField(part: Part, names: readonly string[]): Field {
  const words = part.task ? [...DUE_WORDS, ...TASK_ENDS] : DUE_WORDS;
  return field(ownDueField(part), `${part.name}: own next due`, "date", {
    phrases: names.flatMap((name) =>
      [...words, ...(COMMON.has(name) ? [] : ["due", "next"])]
        .filter((word) => !COMMON.has(name) || word.includes("replaced"))
        .map((word) => `${name} ${word}`),
    ),
  });
}

function intervalField(part: Part, names: readonly string[]): Field {
  return field(ownIntervalField(part), `${part.name}: own interval`, "text", {
    phrases: names.flatMap((name) => [
      `${name} max`,
      ...INTERVAL_WORDS.flatMap((word) => [`${name} ${word}`, `${name} replaced ${word}`]),
    ]),
  });
}

function findingField(part: Part, names: readonly string[], wearing: readonly Part[]): Field {
  const only = wearing.length === 1 && wearing[0] === part;
  return field(`finding:${part.code}`, `${part.name}: finding`, "text", {
    phrases: [...names.map((name) => `${name} finding`), ...(only ? ["finding"] : [])],
    lesser: names.flatMap((name) => [`${name} condition`, `${name} status`]),
  });
}

function field(
  key: string,
  title: string,
  holds: Holds,
  words: Partial<Pick<Field, "phrases" | "lesser" | "dated">>,
): Field {
  return { key, title, holds, phrases: [], lesser: [], dated: [], ...words };
}
