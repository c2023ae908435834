import type { JSX } from "preact";
import { useMemo } from "preact/hooks";
import type { Problem } from "../../src/book/records/records.ts";
import { address, columnLetters } from "../../src/book/workbook/snapshot.ts";
import { oneStep } from "../../src/book/workbook/steps.ts";
import { Button } from "./form.tsx";
import { Long } from "./pieces.tsx";
import { lostCalls, repairPlan } from "./repair.ts";
import type { SectionGiven } from "./section.ts";
import { withoutOptions } from "./trouble.ts";
import { WORDS } from "./words.ts";

const words = WORDS.check;

/** Every problem with its cell, its cause and what to do. */
export function CheckSection({ state, book, desk }: SectionGiven): JSX.Element {
  const { problems } = book.reading;
  const lost = useMemo(() => lostCalls(book.snapshot).length, [book]);
  const isFault = ({ severity }: Problem): boolean => severity === "fault";
  const [faults, notices] = [problems.filter(isFault), problems.filter((one) => !isFault(one))];
  const one = (problem: Problem): JSX.Element => (
    <ProblemButton
      problem={problem}
      press={() => {
        const { sheet, row, column } = problem;
        void desk.select({ sheet, row: row ?? 0, column: column ?? 0 });
      }}
    />
  );
  return (
    <>
      <p>{problems.length === 0 ? words.clean : words.lead(faults.length, notices.length)}</p>
      {lost > 0 && <p class="note">{words.repairText(lost)}</p>}
      {byKind([...faults, ...notices]).map(([kind, all], at) => (
        <details key={kind} open={at === 0}>
          <summary>{`${kind}: ${all.length}`}</summary>
          <Long label={kind} all={all} one={one} />
        </details>
      ))}
      <Button
        main={state.proposal === null}
        off={state.busy !== null}
        press={() => {
          if (lost === 0) void desk.read();
          else
            void desk.propose("check", {
              steps: [({ snapshot }) => oneStep(() => repairPlan(snapshot))],
            });
        }}
      >
        {lost === 0 ? WORDS.readAgain : words.repair(lost)}
      </Button>
    </>
  );
}

/** Problems of a kind together, in the order in which the kinds come first. */
function byKind(problems: readonly Problem[]): [string, Problem[]][] {
  const kinds = new Map<string, Problem[]>();
  for (const problem of problems) {
    const note = problem.severity === "notice" ? ` (${words.notice})` : "";
    const name = `${problem.kind}${note}`;
    const there = kinds.get(name);
    if (there === undefined) kinds.set(name, [problem]);
    else there.push(problem);
  }
  return [...kinds];
}

function ProblemButton({
  problem,
  press,
}: {
  readonly problem: Problem;
  readonly press: () => void;
}): JSX.Element {
  const { cause, fix, heading } = problem;
  return (
    <button type="button" class="item" onClick={press}>
      <strong>{`${placeOf(problem)}${heading === "" ? "" : ` “${heading}”`}`}</strong>
      <span>{withoutOptions([cause, fix].filter((text) => text !== "").join(" "))}</span>
    </button>
  );
}

function placeOf({ sheet, row, column }: Problem): string {
  if (row === null && column === null) return sheet;
  if (row === null) return `${sheet}!${columnLetters(column ?? 0)}`;
  return column === null ? `${sheet}!${row + 1}` : `${sheet}!${address(row, column)}`;
}
