import { z } from "zod";
import { mendingOf } from "../../book/day/mend.ts";
import { counted } from "../../book/records/problems.ts";
import { resultPlan } from "../../book/sheets/result-plan.ts";
import { describePlan } from "../../book/workbook/describe.ts";
import { BOOK, command } from "../command.ts";
import { faults, inputOf, targetOf, writeBytes } from "../job.ts";
import { applied, openBook } from "../open.ts";
import { flag } from "../option.ts";
import { progressOn } from "../progress.ts";
import { refreshed } from "../refreshed.ts";
import { aligned } from "../report.ts";
import { jobResult, list } from "../result.ts";

const RESULT = {
  mended: list(
    z.strictObject({ sheet: z.string(), cell: z.string(), from: z.string(), to: z.string() }),
  ),
  faultsLeft: z.int(),
};

/** Cells whose meaning is certain, put right. */
export const mend = command({
  name: "mend",
  moment: "The day",
  brief: "text that surely is a date or number becomes one; stray spaces go",
  about: `Turns what is certain into what it means: text that can be read as one date only becomes that date, a
number in text a number; spaces around identifiers go, an earlier name of a site becomes its code. What has
two meanings, and every cell with a formula, is left for you: check lists it. Give --day-order where a column
leaves the order of day and month open. Where day and month of a column's dates may be swapped, nothing of
that column is touched until you say --swapped.`,
  words: BOOK,
  writes: "-o OUT",
  common: ["in-place", "dry-run"],
  examples: [
    "mend equipment.xlsx -o mended.xlsx",
    "mend equipment.xlsx --in-place",
    "mend equipment.xlsx --prices -o priced.xlsx",
  ],
  options: {
    prices: flag("also take the pack prices that check offers from a price list"),
    swapped: flag("also swap day and month of dates where check says that they may be"),
  },
  result: jobResult(RESULT),
  run({ words: path, given, request, io, say }) {
    const progress = progressOn(io);
    const target = targetOf(request, path);
    const before = openBook(path, request, io, progress);
    const { cells, change } = mendingOf(before.workbook.snapshot, before.reading, given);
    const plan =
      cells.length === 0
        ? null
        : resultPlan(before.workbook.snapshot, before.reading, { ...change, today: io.today() });
    progress.step("mending");
    const after =
      plan === null ? before : refreshed(applied(before, plan, request, io), request, io);
    const left = faults(after.reading.problems).length;
    const { summary } = change;
    const written =
      plan === null
        ? [`${target}: nothing to mend`]
        : request.dryRun
          ? describePlan(plan)
          : writeBytes(after.bytes, { ...inputOf(before), summary, target, request, io });
    say(
      () => [
        ...aligned(cells.map(({ sheet, cell, from, to }) => [`${sheet}!${cell}`, from, "→", to])),
        `${counted(cells.length, "cell")} mended; ${counted(left, "fault")} left for you to see with check.`,
        ...written,
      ],
      () => ({
        mended: cells,
        faultsLeft: left,
        ...(request.dryRun ? { edits: written } : plan === null ? {} : { written: target }),
      }),
    );
    return 0;
  },
});
