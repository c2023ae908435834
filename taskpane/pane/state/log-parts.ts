// What is read of logs: of the programme's own, and what is written beside the jobs of ours; what puts counts in doubt;
// what hears people's words beside devices and dates.
export { withComments } from "../../../src/book/reading/remarks/comments.ts";
export { countDoubts } from "../../../src/book/reading/counts/count-doubts.ts";
export { withJobNotes as jobNotes } from "../../../src/book/reading/jobs/job-notes.ts";
export { withNearDevices as nearDevices } from "../../../src/book/reading/jobs/near-devices.ts";
export { ownLogs } from "../../../src/book/reading/own-log/own-log.ts";
export { readRemarks } from "../../../src/book/reading/remarks/remarks.ts";
