import { describePlan } from "../../../src/book/workbook/describe.ts";
import type { Plan } from "../../../src/book/workbook/plan.ts";
import type { Steps } from "../../../src/book/workbook/steps.ts";
import { onPaper } from "../../paper.ts";
import type { Opened, Proposal, Section, Request } from "./state.ts";

/** Reads a snapshot as the pane reads it now. */
type Open = (snapshot: Opened["snapshot"]) => Steps<Opened>;

/** Works a request out on paper, step by step; nothing is changed. */
export function* proposalOf(
  section: Section,
  request: Request,
  { before, open }: { readonly before: Opened; readonly open: Open },
): Steps<Proposal> {
  const plans: Plan[] = [];
  let after = before;
  for (const step of request.steps) {
    const plan = yield* step(after);
    if (plan.edits.length === 0) continue;
    plans.push(plan);
    yield;
    after = yield* open(onPaper(after.snapshot, plan));
  }
  return {
    section,
    request,
    before,
    plans,
    lines: plans.flatMap(describePlan),
    notes: request.notes?.(before, after) ?? [],
  };
}

/** Whether two proposals would do the same, as far as people are shown. */
export function isSame(one: Proposal, other: Proposal): boolean {
  return (
    one.lines.length === other.lines.length &&
    one.lines.every((line, at) => line === other.lines[at])
  );
}
