import { roundLines } from "../../../src/book/day/round-lines.ts";
import type { Day } from "../../../src/core/day.ts";
import { entriesRequest } from "./entries-request.ts";
import type { Request } from "./state.ts";

/** What was typed into the workbook's round sheets, logged; nothing where a line is refused, with all reasons. */
export function roundsLogged(today: Day): Request {
  return entriesRequest(({ snapshot, reading }) => roundLines(snapshot, reading.ours.parts), today);
}
