import { expect, test } from "vitest";
import { fault, notice } from "../../src/book/records/problems.ts";
import type { Problem } from "../../src/book/records/records.ts";
import { problemLines } from "../../src/cli/problem-lines.ts";

function at(row: number | null, cause = "No result.", column: number | null = 3): Problem {
  const place = { sheet: "Kit", row, column, heading: "Next" };
  return fault("own limit unclear", place, cause, "Open it.");
}

const TOLD = "Your own limit may be stricter.";

test("what the cells of a column have in common is said once, with all of its cells", () => {
  const rows = [2, 3, 4, 7, 9, 10].map((row) => at(row));
  expect(problemLines(rows)).toEqual([
    `Kit!D3:D5, D8, D10:D11 (Next): ${TOLD} No result. Open it.`,
  ]);
});

test("another cause, column or sheet has a line of its own, faults before notices", () => {
  const place = { sheet: "Kit", row: 5, column: 3, heading: "" };
  const told = notice("unknown status", place, "Seen.", "");
  expect(problemLines([told, at(2), at(3, "A link."), at(4, "No result.", 4)])).toEqual([
    `Kit!D3 (Next): ${TOLD} No result. Open it.`,
    `Kit!D4 (Next): ${TOLD} A link. Open it.`,
    `Kit!E5 (Next): ${TOLD} No result. Open it.`,
    "Kit!D6: Status is not a known word. Seen.",
  ]);
});

test("whole rows, columns and sheets are named as such", () => {
  const [row, column, sheet] = [at(1, "", null), at(null, ""), at(null, "", null)];
  expect(problemLines([row, column, sheet])).toEqual([
    `Kit!2:2 (Next): ${TOLD} Open it.`,
    `Kit!D:D (Next): ${TOLD} Open it.`,
    `Kit (Next): ${TOLD} Open it.`,
  ]);
});
