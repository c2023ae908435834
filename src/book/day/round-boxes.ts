import { findingText } from "../records/finding-words.ts";
import { answered } from "../languages/answers.ts";
import { FINDINGS } from "../sheets/job-log.ts";
import type { CellValue } from "../workbook/snapshot.ts";

/** Heading of the box that is ticked where a finding was made in an inspection, counted from 1. */
export function findingBox(finding: string, turn: number): string {
  return `${finding.charAt(0).toUpperCase()}${finding.slice(1)} ${turn}`;
}

/**
 * What the boxes of an inspection say: the findings ticked, each with what stands in its box besides a tick. A box of
 * clean that is crossed out or says no is a finding that is not told, which has to be asked about.
 */
export function tickedIn(at: (heading: string) => CellValue, turn: number): string[] {
  return FINDINGS.flatMap((finding) => {
    const said = findingText(at(findingBox(finding, turn))).trim();
    if (finding === "clean" && isDenied(said)) return ["not clean"];
    if (isLeft(said)) return [];
    return isTick(said) ? [finding] : [`${finding}: ${said}`];
  });
}

/** A box that is blank, or says in words that it is not ticked. */
function isLeft(said: string): boolean {
  return said === "" || /^(?:[-–—☐□]|0|false)$/i.test(said) || answered(said) === false;
}

function isDenied(said: string): boolean {
  return /^(?:[☒✗✘]|0|false)$/i.test(said) || answered(said) === false;
}

function isTick(said: string): boolean {
  return /^(?:[x×✓✔√☑☒✗✘]|1|true)$/i.test(said) || answered(said) === true;
}
