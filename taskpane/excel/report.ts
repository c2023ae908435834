import { VERSION } from "../version.ts";
import { tallied } from "./tally.ts";

/** The sets whose highest version is told, and the last minor version that is asked for. */
const SETS = ["ExcelApi", "CustomFunctionsRuntime", "SharedRuntime"];
const LAST_MINOR = 40;

/**
 * What may help to find a fault: versions, what this Excel offers, and what went between it and the pane. It
 * holds no cell and no name of anything in the workbook.
 */
export function faultReport(): string {
  const { diagnostics, platform, contentLanguage, displayLanguage } = Office.context;
  const { requests, largest, refusals } = tallied();
  return [
    `Sparespan ${VERSION}`,
    // The typings leave out that older ones tell nothing of themselves.
    `Excel ${(diagnostics as Office.ContextInformation | undefined)?.version ?? "of an unknown version"} on ${String(platform)}`,
    `Languages: ${contentLanguage} (workbook), ${displayLanguage} (Excel)`,
    `Requirement sets: ${SETS.map((set) => `${set} ${highest(set)}`).join(", ")}`,
    `Browser: ${navigator.userAgent}`,
    `Requests since the pane was opened: ${requests}`,
    `Largest answer: about ${(largest / 1_000_000).toFixed(1)} MB`,
    `Last refusals: ${refusals.length === 0 ? "none" : refusals.join("; ")}`,
  ].join("\n");
}

/** The highest version of a set that this Excel supports. */
function highest(set: string): string {
  const { requirements } = Office.context;
  let found = "none";
  for (let minor = 1; minor <= LAST_MINOR; minor += 1) {
    if (requirements.isSetSupported(set, `1.${minor}`)) found = `1.${minor}`;
  }
  return found;
}
