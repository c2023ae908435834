import type { Definition } from "./define.ts";
import { pagePath } from "./page.ts";

/**
 * The content of functions.json, from which Excel learns the functions.
 *
 * Every argument and answer is a range of anything: a function then gets whole columns in one call,
 * and reads its cells itself instead of leaving it to the host. `address` is where the pages are served
 * from, with a slash at its end.
 */
export function metadata(functions: readonly Definition[], address: string): object {
  return {
    allowErrorForDataTypeAny: true,
    functions: functions.map((one) => ({
      id: one.id,
      name: one.id,
      description: one.about,
      helpUrl: `${address}${pagePath(one)}`,
      parameters: one.args.map((arg) => ({
        name: arg.name,
        description: arg.about,
        type: "any",
        dimensionality: "matrix",
        ...(arg.optional ? { optional: true } : {}),
      })),
      result: { type: "any", dimensionality: "matrix" },
    })),
  };
}
