import { type Answer, isRows, type Result } from "../../../functions/answer.ts";
import { type Definition, NAMESPACE } from "../../../functions/define.ts";
import { formulaText } from "../../../functions/help.ts";

/** What the grid takes for the result of a call. */
export type GridAnswer = string | number | boolean | (string | number | boolean)[][];

/** The result of a call as the grid takes it; an error's sentence is told apart. */
export function gridAnswer(result: Result, told: (sentence: string) => void): GridAnswer {
  const one = (answer: Answer): string | number | boolean => {
    if (typeof answer !== "object") return answer;
    told(answer.message);
    return answer.error;
  };
  return isRows(result) ? result.map((row) => row.map(one)) : one(result);
}

/** What the grid shows while a function is typed. */
export interface Help {
  readonly name: string;
  readonly about: string;
  readonly args: readonly {
    readonly name: string;
    readonly about: string;
    readonly example: string;
    readonly needed: boolean;
  }[];
}

/** The help of a function from its declaration. */
export function helpFor(definition: Definition): Help {
  const { id, about, args, examples } = definition;
  const [example] = examples;
  const typed = example ? formulaText(definition, example) : "";
  return {
    name: `${NAMESPACE}.${id}`,
    about,
    args: args.map((arg) => ({
      name: arg.name,
      about: arg.about,
      example: typed,
      needed: arg.optional !== true,
    })),
  };
}

/** The function of ours that a formula calls outermost, or null. */
export function calledBy(formula: string, functions: readonly Definition[]): Definition | null {
  const id = /^SPARE\.(\w+)\(/i.exec(formula)?.[1]?.toUpperCase();
  return functions.find((one) => one.id === id) ?? null;
}

/** Columns of a function's answer that hold dates, counted from the formula's own. */
export function dateColumns({ gives }: Definition): number[] {
  if (gives.kind !== "rows") return gives.kind === "date" ? [0] : [];
  return gives.columns.flatMap(({ kind }, at) => (kind === "date" ? [at] : []));
}
