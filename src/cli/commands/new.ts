import { newRegisterPlan } from "../../book/sheets/new-register.ts";
import { describePlan } from "../../book/workbook/describe.ts";
import { command, oneWord } from "../command.ts";
import { writeNew } from "../job.ts";
import { jobResult } from "../result.ts";

/** An empty register with headings, choices and date limits, for a programme that has no sheet yet. */
export const fresh = command({
  name: "new",
  moment: "The book",
  brief: "an empty register, for a programme without a sheet",
  about: "An empty register with headings, choices and date limits, and our sheets.",
  words: oneWord("OUT", "file name"),
  writes: "",
  common: [],
  examples: ["new equipment.xlsx"],
  options: {},
  result: jobResult({}),
  run({ words: path, request, io, say }) {
    const plan = newRegisterPlan(request.reportDate ?? io.today(), io.today());
    const edits = describePlan(plan);
    if (!request.dryRun) writeNew(path, plan, request);
    say(
      () => (request.dryRun ? edits : [`${path}: ${plan.summary}`]),
      () => (request.dryRun ? { edits } : { written: path }),
    );
    return 0;
  },
});
