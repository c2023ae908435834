import { DEFAULT_PARTS } from "../records/parts.ts";
import { fault } from "../records/problems.ts";
import type { PartField, Problem } from "../records/records.ts";
import type { Sheet } from "../workbook/snapshot.ts";
import type { InputRow } from "./input-rows.ts";
import { headingColumn } from "./layout.ts";
import { SERVICE_COLUMNS, type Service } from "./parts.ts";

/** What an interval follows from. */
export type Limits = Pick<
  Service,
  "shortest" | "longest" | "useBudget" | "lightUse" | "heavyUse" | "vinyl" | "task"
>;

const READ = ["shortest", "longest", "useBudget", "lightUse", "heavyUse", "vinyl", "task"] as const;

/** The limits of a part that can be worked with, the fields in doubt, and what does not fit together. */
export interface LimitsRead {
  readonly values: Limits;
  readonly fields: readonly PartField[];
  readonly problems: readonly Problem[];
}

/**
 * The limits of a row. Where one of its cells cannot be read, is missing or contradicts another, usage no
 * longer lengthens the interval: the shortest one applies, and where that itself is in doubt the least of
 * what its cells may mean and of what its kind of part starts with.
 */
export function limitsIn(row: InputRow<Service>, code: string, sheet: Sheet): LimitsRead {
  const { record, doubts } = row;
  const crossed = contradictions(row, sheet);
  const unread = READ.filter((field) => doubts.get(field)?.certain === false);
  const fields = [...crossed.map(({ field }) => field), ...unread];
  const problems = crossed.map(({ problem }) => problem);
  const { shortest, longest, useBudget, lightUse, heavyUse, vinyl, task } = record;
  if (fields.length === 0) {
    return {
      values: { shortest, longest, useBudget, lightUse, heavyUse, vinyl, task },
      fields,
      problems,
    };
  }
  const usual = DEFAULT_PARTS.find((part) => part.code === code);
  const isSure = !fields.includes("shortest") && shortest !== null;
  const months = isSure
    ? shortest
    : Math.min(...[shortest, longest, usualShortest(code)].filter((end) => end !== null));
  return {
    values: {
      shortest: months,
      longest: months,
      useBudget: null,
      lightUse: null,
      heavyUse: null,
      vinyl,
      task: unread.includes("task") ? (usual?.task ?? false) : task,
    },
    fields,
    problems,
  };
}

/** The shortest interval a part of this kind starts with; of an unknown kind, the shortest of all. */
function usualShortest(code: string): number {
  const kinds = DEFAULT_PARTS.filter((part) => part.code === code);
  return Math.min(
    ...(kinds.length > 0 ? kinds : DEFAULT_PARTS).map(({ shortest }) => shortest ?? 1),
  );
}

interface Contradiction {
  readonly field: keyof Limits;
  readonly problem: Problem;
}

/** Limits that are missing, or that do not fit together. */
function contradictions({ row, record, doubts }: InputRow<Service>, sheet: Sheet): Contradiction[] {
  const { shortest, longest, lightUse, heavyUse } = record;
  const wrong = (field: keyof Limits, cause: string, fix: string): Contradiction[] => {
    const { heading, carefully = "" } = SERVICE_COLUMNS[field];
    const place = { sheet: sheet.name, row, column: headingColumn(sheet, heading), heading };
    return [
      { field, problem: fault("limits missing or crossed", place, `${cause}; ${carefully}.`, fix) },
    ];
  };
  const missing = (field: "shortest" | "longest"): Contradiction[] =>
    record[field] === null && !doubts.has(field)
      ? wrong(field, "There is no number of months", "Type whole months.")
      : [];
  const half = (field: "lightUse" | "heavyUse", other: "lightUse" | "heavyUse"): Contradiction[] =>
    record[field] === null && !doubts.has(field) && (record[other] !== null || doubts.has(other))
      ? wrong(
          field,
          "Light and heavy use go together, and this one is missing",
          "Type both, or clear both.",
        )
      : [];
  return [
    ...missing("shortest"),
    ...missing("longest"),
    ...(shortest !== null && longest !== null && shortest > longest
      ? wrong(
          "shortest",
          `${shortest} months are more than the longest, ${longest}`,
          "Correct whichever of the two is wrong.",
        )
      : []),
    ...half("lightUse", "heavyUse"),
    ...half("heavyUse", "lightUse"),
    ...(lightUse !== null && heavyUse !== null && lightUse > heavyUse
      ? wrong(
          "lightUse",
          `Light use, ${lightUse}, is more than heavy use, ${heavyUse}`,
          "Correct whichever of the two is wrong.",
        )
      : []),
  ];
}
