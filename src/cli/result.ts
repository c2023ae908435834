import { z } from "zod";

/** What the schemas of results are made of. A key that no schema names is in no result. */

/** A list that is never changed. */
export function list<T extends z.ZodType>(one: T): z.ZodReadonly<z.ZodArray<T>> {
  return z.array(one).readonly();
}

/** A day as ISO text. */
export const DATE = z.iso.date();

/** An amount that may not be known. */
export const AMOUNT = z.number().nullable();

/** What every job adds to its result: the cells of our sheets that are in doubt, where there are any. */
export const DOUBTS = list(z.string()).optional();

/** What a job that may write adds besides: what --dry-run would do, or the file it wrote. */
const DONE = { doubts: DOUBTS, edits: list(z.string()).optional(), written: z.string().optional() };

/** The result of a job that may write. */
export function jobResult<S extends z.ZodRawShape>(
  shape: S,
): z.ZodObject<S & typeof DONE, z.core.$strict> {
  return z.strictObject({ ...shape, ...DONE });
}
