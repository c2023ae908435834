import type { Entry } from "../../../src/book/day/entry-meant.ts";
import { logChange } from "../../../src/book/day/log-change.ts";
import { logEntry, type Logged } from "../../../src/book/day/entry.ts";
import { judgedAgain } from "../../../src/book/columns/judged-again.ts";
import { markOf } from "../../../src/book/answers/marks.ts";
import { resultPlan } from "../../../src/book/sheets/result-plan.ts";
import { oneStep } from "../../../src/book/workbook/steps.ts";
import type { Day } from "../../../src/core/day.ts";
import type { Show } from "./show.ts";
import type { Opened, Step, Request } from "./state.ts";
import { logSheetStep, refreshStep } from "./requests.ts";
import { LATER_WORDS } from "../words/later-words.ts";

interface Given {
  readonly again: boolean;
  readonly today: Day;
  readonly show: Show;
}

/** A job logged: the Job log is made where there is none, and columns that are there say what then holds. */
export function logRequest(entry: Entry, { again, today, show }: Given): Request {
  let notes: readonly string[] = [];
  let logged: Logged | null = null;
  const write: Step = ({ snapshot, reading }) =>
    oneStep(() => {
      logged = logEntry(snapshot, reading, { entry, again });
      notes = logged.notes;
      return resultPlan(snapshot, reading, { ...logChange(entry, logged), today });
    });
  return {
    steps: [logSheetStep(today), write, refreshStep(today)],
    notes: (_, after) => [...(logged === null ? [] : dueLines(after, logged, show)), ...notes],
  };
}

/** When the part, or each of its positions, is due once the job is written down. */
function dueLines({ snapshot, reading }: Opened, { device, part }: Logged, show: Show): string[] {
  return judgedAgain(snapshot, reading, { device, part }).map((unit) => {
    const { due, state } = unit.row.answers;
    const when = due === null ? LATER_WORDS.log.noDue : LATER_WORDS.log.nextDue(show.day(due));
    return LATER_WORDS.log.due(unit.part.name, device.id, when, `${markOf(state)} ${state}`);
  });
}
