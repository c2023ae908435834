import type { JSX } from "preact";
import { useMemo } from "preact/hooks";
import { type Mending, mendingOf } from "../../../src/book/day/mend.ts";
import type { Problem } from "../../../src/book/records/records.ts";
import { resultPlan } from "../../../src/book/sheets/result-plan.ts";
import { address, columnLetters } from "../../../src/book/workbook/snapshot.ts";
import { oneStep } from "../../../src/book/workbook/steps.ts";
import type { Day } from "../../../src/core/day.ts";
import { CAUSES } from "../../../src/book/records/causes.ts";
import { Button } from "../pieces/form.tsx";
import { InFoot } from "../pieces/in-foot.tsx";
import { Long } from "../pieces/pieces.tsx";
import { ProposeButton } from "../pieces/propose-button.tsx";
import { lostCalls, repairPlan } from "../state/repair.ts";
import { refreshStep } from "../state/requests.ts";
import type { SectionGiven } from "../pieces/section.ts";
import type { Show } from "../state/show.ts";
import type { Request, Step } from "../state/state.ts";
import { withoutOptions } from "../state/trouble.ts";
import { LATER_WORDS } from "../words/later-words.ts";
import { WORDS } from "../words/words.ts";

const words = LATER_WORDS.check;
/** Cells that are named in the first place; every change says all of them. */
const FIRST = 12;

/** Every problem by its cause, the heaviest first; what can be mended for certain is offered together. */
export function CheckSection(given: SectionGiven): JSX.Element {
  const { state, book, desk, show } = given;
  const { problems } = book.reading;
  const lost = useMemo(() => lostCalls(book.snapshot).length, [book]);
  const certain = useMemo(() => mendingOf(book.snapshot, book.reading).cells.length, [book]);
  const faults = problems.filter(isFault).length;
  const one = (problem: Problem): JSX.Element => (
    <ProblemButton
      {...{ problem, show }}
      press={() => {
        const { sheet, row, column } = problem;
        void desk.select({ sheet, row: row ?? 0, column: column ?? 0 });
      }}
    />
  );
  return (
    <>
      <p>{problems.length === 0 ? words.clean : words.lead(faults, problems.length - faults)}</p>
      {certain > 0 && <p class="note">{words.mendText(certain)}</p>}
      {lost > 0 && <p class="note">{words.repairText(lost)}</p>}
      {byCause(problems).map(([cause, all], at) => (
        <details key={cause} open={at === 0}>
          <summary>{`${cause}: ${all.length}`}</summary>
          <Long label={cause} all={all} one={one} />
        </details>
      ))}
      {certain > 0 && (
        <ProposeButton {...given} request={mendRequest}>
          {words.mend(certain)}
        </ProposeButton>
      )}
      {lost > 0 && (
        <ProposeButton
          {...given}
          request={() => ({ steps: [({ snapshot }) => oneStep(() => repairPlan(snapshot))] })}
        >
          {words.repair(lost)}
        </ProposeButton>
      )}
      {state.proposal === null && (
        <InFoot>
          <Button
            main={certain === 0 && lost === 0}
            off={state.busy !== null}
            press={() => void desk.read()}
          >
            {WORDS.readAgain}
          </Button>
        </InFoot>
      )}
    </>
  );
}

function isFault({ severity }: Problem): boolean {
  return severity === "fault";
}

/** Cells that are certain to mean something, as they are to be, and the columns that follow from them. */
function mendRequest(today: Day): Request {
  let cells: Mending["cells"] = [];
  const mend: Step = ({ snapshot, reading }) =>
    oneStep(() => {
      const mending = mendingOf(snapshot, reading);
      ({ cells } = mending);
      return resultPlan(snapshot, reading, { ...mending.change, today });
    });
  return {
    steps: [mend, refreshStep(today)],
    notes: () => [
      ...cells
        .slice(0, FIRST)
        .map(({ sheet, cell, from, to }) => words.mended(`${sheet}!${cell}`, from, to)),
      cells.length > FIRST ? words.mendedMore(cells.length - FIRST) : "",
    ],
  };
}

/** Problems of a cause together: faults before what is only good to know, then the most. */
function byCause(problems: readonly Problem[]): [string, Problem[]][] {
  const causes = new Map<string, Problem[]>();
  for (const problem of problems) {
    const note = isFault(problem) ? "" : ` (${words.notice})`;
    const name = `${CAUSES[problem.kind]}${note}`;
    const there = causes.get(name);
    if (there === undefined) causes.set(name, [problem]);
    else there.push(problem);
  }
  const hasFaults = (all: readonly Problem[]): number => Number(all.some(isFault));
  return [...causes].sort(
    ([, one], [, other]) => hasFaults(other) - hasFaults(one) || other.length - one.length,
  );
}

function ProblemButton({
  problem,
  show,
  press,
}: {
  readonly problem: Problem;
  readonly show: Show;
  readonly press: () => void;
}): JSX.Element {
  const { cause, fix, heading } = problem;
  return (
    <button type="button" class="item" onClick={press}>
      <strong>{`${placeOf(problem)}${heading === "" ? "" : ` “${heading}”`}`}</strong>
      <span>{show.said(withoutOptions([cause, fix].filter((text) => text !== "").join(" ")))}</span>
    </button>
  );
}

function placeOf({ sheet, row, column }: Problem): string {
  if (row === null && column === null) return sheet;
  if (row === null) return `${sheet}!${columnLetters(column ?? 0)}`;
  return column === null ? `${sheet}!${row + 1}` : `${sheet}!${address(row, column)}`;
}
