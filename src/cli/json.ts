import { eachRegister, type RegisterReading } from "../book/records/registers.ts";
import { mendText } from "../book/day/mend.ts";
import type { OpenBook } from "./open.ts";
import { z } from "zod";
import type { Reading } from "../book/records/records.ts";
import { address } from "../book/workbook/snapshot.ts";
import { list } from "./result.ts";

/** What several results hold for machines: rows as people count, and stable names. */

export const PROBLEMS = list(
  z.strictObject({
    kind: z.string(),
    sheet: z.string(),
    row: z.int().nullable(),
    cell: z.string().nullable(),
    heading: z.string(),
    cause: z.string(),
    fix: z.string(),
    severity: z.enum(["fault", "notice"]),
    mend: z.string().nullable(),
  }),
);

export const REGISTER = z.strictObject({
  sheet: z.string(),
  headerRow: z.int(),
  devices: z.int(),
  leftOut: list(z.strictObject({ row: z.int(), reason: z.string() })),
  matches: list(
    z.strictObject({
      field: z.string(),
      cell: z.string(),
      heading: z.string(),
      confidence: z.number(),
      by: z.enum(["heading", "setup", "person"]),
    }),
  ),
  unmatched: list(z.string()),
});

export function problemsJson({
  workbook,
  reading: { problems },
}: OpenBook): z.infer<typeof PROBLEMS> {
  return problems.map(({ kind, row, column, mend, ...problem }) => ({
    kind,
    ...problem,
    mend: mend === undefined ? null : mendText(mend, workbook.snapshot.dateSystem),
    row: row === null ? null : row + 1,
    cell: row === null || column === null ? null : address(row, column),
  }));
}

export function registersJson(reading: Reading): z.infer<typeof REGISTER>[] {
  return eachRegister(reading).map(registerJson);
}

function registerJson({ register, devices }: RegisterReading): z.infer<typeof REGISTER> {
  return {
    sheet: register.sheet,
    headerRow: register.headerRow + 1,
    devices: devices.length,
    leftOut: register.leftOut.map(({ row, reason }) => ({ row: row + 1, reason })),
    matches: register.matches.map(({ column, ...match }) => ({
      ...match,
      cell: address(register.headerRow, column),
    })),
    unmatched: register.unmatched,
  };
}
