import { z } from "zod";
import { bareCommand } from "../command.ts";
import { list } from "../result.ts";

/** What a cell shows: a value, or a worksheet's error with its sentence; #NAME? is a line that is no call. */
const CELL = z.union([
  z.number(),
  z.string(),
  z.boolean(),
  z.strictObject({ error: z.enum(["#VALUE!", "#N/A", "#NAME?"]), message: z.string() }),
]);

/** One worksheet function in the shell, or a stream of calls. */
export const calculate = bareCommand({
  name: "calc",
  moment: "",
  brief: "one worksheet function; calc --list names them",
  about: `One worksheet function; dates as yyyy-mm-dd, columns as JSON arrays. calc - reads one call per line.`,
  words: "NAME ARG...",
  writes: "",
  common: [],
  examples: ["calc --list", "calc NEXTDUE 2026-01-31 3 --dates", "calc SPAN 45 3 6 - 20 60"],
  result: z.union([CELL, list(list(CELL))]),
});
