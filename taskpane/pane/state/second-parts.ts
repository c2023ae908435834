// What the first list does not wait for, and every section and every change has need of.
export { allTold } from "../../../src/book/reading/workbook.ts";
export { wayOut } from "../../../src/book/headings/no-register.ts";
export {
  countDoubts,
  jobNotes,
  nearDevices,
  ownLogs,
  readRemarks,
  withComments,
} from "./log-parts.ts";
export { applySteps, bare, takeBackLast } from "./apply-steps.ts";
export { isSame, proposalOf } from "./propose.ts";
export { sparesMissing } from "./spares.ts";
