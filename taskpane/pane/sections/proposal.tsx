import type { JSX } from "preact";
import { useEffect, useRef } from "preact/hooks";
import type { AddColumn } from "../../../src/book/workbook/plan.ts";
import { address, isCellError, type CellValue } from "../../../src/book/workbook/snapshot.ts";
import { fromSerial } from "../../../src/core/day.ts";
import type { Desk } from "../state/desk.ts";
import { Button } from "../pieces/form.tsx";
import { InFoot } from "../pieces/in-foot.tsx";
import { focusOn } from "../pieces/keep-focus.ts";
import { Lines } from "../pieces/pieces.tsx";
import { Table } from "../pieces/tables.tsx";
import type { Show } from "../state/show.ts";
import type { Proposal, State } from "../state/state.ts";
import { COLUMNS_WORDS } from "../words/columns-words.ts";
import { LATER_WORDS } from "../words/later-words.ts";

const FEW_LINES = 8;
const FIRST_ROWS = 3;

interface Given {
  readonly proposal: Proposal;
  readonly state: State;
  readonly desk: Desk;
  readonly show: Show;
}

/** What would change, with the one press that does it. */
export function ProposalBox({ proposal, state, desk, show }: Given): JSX.Element {
  const { busy } = state;
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    focusOn(heading.current);
  }, [proposal]);
  const { plans, lines, notes } = proposal;
  return (
    <section class="box" aria-labelledby="would-change">
      <h3 id="would-change" ref={heading} tabIndex={-1}>
        {LATER_WORDS.proposal.title}
      </h3>
      <Lines show={show} all={[...plans.map(({ summary }) => summary), ...notes]} />
      <FirstRows proposal={proposal} state={state} show={show} />
      <details open={lines.length <= FEW_LINES}>
        <summary>{LATER_WORDS.proposal.lines(lines.length)}</summary>
        <ul>
          {lines.map((line, at) => (
            <li key={at}>{line}</li>
          ))}
        </ul>
      </details>
      <p>{LATER_WORDS.proposal.nothingElse}</p>
      <InFoot>
        <Button
          main
          off={busy !== null}
          press={() => {
            void desk.apply(proposal);
          }}
        >
          {LATER_WORDS.proposal.apply}
        </Button>
        <Button off={busy !== null} press={desk.drop}>
          {LATER_WORDS.proposal.drop}
        </Button>
      </InFoot>
    </section>
  );
}

/** New columns with what they will hold in the first rows. */
function FirstRows({
  proposal,
  state,
  show,
}: {
  readonly proposal: Proposal;
  readonly state: State;
  readonly show: Show;
}): JSX.Element | null {
  const system = state.snapshot?.dateSystem ?? 1900;
  const columns = proposal.plans.flatMap(({ edits }) =>
    edits.filter(
      (edit): edit is AddColumn => edit.kind === "addColumn" && edit.cells.rows.length > 0,
    ),
  );
  if (columns.length === 0) return null;
  const shown = (value: CellValue, format: string): string => {
    if (value === null || value === "") return LATER_WORDS.functions.blank;
    if (isCellError(value)) return value.error;
    const date =
      typeof value === "number" && format.includes("yy") ? fromSerial(value, system) : null;
    return date === null ? String(value) : show.day(date);
  };
  return (
    <Table
      caption={COLUMNS_WORDS.first}
      head={[COLUMNS_WORDS.column, COLUMNS_WORDS.cells, COLUMNS_WORDS.first]}
      rows={columns.map(({ title, headerRow, cells }) => [
        title,
        `${address(headerRow, cells.column)}:${address(cells.rows.at(-1) ?? headerRow, cells.column)}`,
        cells.values
          .slice(0, FIRST_ROWS)
          .map((value) => shown(value, cells.format ?? ""))
          .join(" · "),
      ])}
    />
  );
}
