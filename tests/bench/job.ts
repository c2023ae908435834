import { readFileSync, writeFileSync } from "node:fs";
import { columnsPlan } from "../../src/book/columns/columns-plan.ts";
import { REPORT_DATE } from "../../src/book/demo/programme.ts";
import { readWorkbook } from "../../src/book/reading/workbook.ts";
import { NODE_CODEC } from "../../src/cli/files.ts";
import { applyPlan, openWorkbook } from "../../src/xlsx/index.ts";

/** The whole file job in a process of its own: open, check the rows, add the columns, save and check the save. */
const [from = "", to = "", planPath = ""] = process.argv.slice(2);
const begun = performance.now();
const workbook = openWorkbook(readFileSync(from), { codec: NODE_CODEC });
const opened = performance.now();
const reading = readWorkbook(workbook.snapshot, REPORT_DATE, { reportDate: REPORT_DATE });
const checked = performance.now();
const request = { mode: "portable", today: REPORT_DATE, force: false } as const;
const plan = columnsPlan(workbook.snapshot, reading, request);
const planned = performance.now();
writeFileSync(to, applyPlan(workbook, plan));
const saved = performance.now();
const { maxRSS } = process.resourceUsage();
// What a peer is to carry out as well.
if (planPath !== "") writeFileSync(planPath, JSON.stringify(plan));
const seconds = (one: number, other: number): number => Math.round(other - one) / 1000;
process.stdout.write(
  JSON.stringify({
    seconds: seconds(begun, saved),
    open: seconds(begun, opened),
    check: seconds(opened, checked),
    plan: seconds(checked, planned),
    save: seconds(planned, saved),
    megabytes: Math.round(maxRSS / 1024),
    columns: plan.edits.filter(({ kind }) => kind === "addColumn").length,
  }),
);
