import type { Definition } from "./define.ts";

/**
 * The content of functions.json, from which Excel learns the functions.
 *
 * Every argument and answer is a range of anything: a function then gets whole columns in one call,
 * and reads its cells itself instead of leaving it to the host.
 */
export function metadata(functions: readonly Definition[]): object {
  return {
    allowErrorForDataTypeAny: true,
    functions: functions.map(({ id, about, args }) => ({
      id,
      name: id,
      description: about,
      parameters: args.map((arg) => ({
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
