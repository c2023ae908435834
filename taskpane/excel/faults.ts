import { HostError } from "../host.ts";
import { refused } from "./tally.ts";

/** What Excel's codes mean for the person who pressed the button. */
const SENTENCES: Readonly<Record<string, string>> = {
  AccessDenied:
    "The workbook or a sheet in it is locked against changes. Unprotect it, or ask its owner.",
  ApiNotFound: "This version of Excel is too old for this step. Update Excel.",
  InvalidOperationInCellEditMode: "A cell is being edited. Finish it with Enter, then try again.",
  ItemAlreadyExists: "Something with this name is already in the workbook.",
  ItemNotFound: "A sheet, table or name is gone. Look at the workbook, then try again.",
  RequestPayloadSizeLimitExceeded: "The step was too large for Excel on the web. Try fewer rows.",
  ResponsePayloadSizeLimitExceeded:
    "The sheet is too large for Excel on the web. Use Excel on a computer.",
  GeneralException: "Excel could not do this. Save the workbook, reopen it and try again.",
};

/** An error of Excel's as a sentence of ours; errors that are none of Excel's stay as they are. */
export function told(error: unknown): Error {
  if (error instanceof HostError) return error;
  if (!isExcelFault(error)) return error instanceof Error ? error : new Error(String(error));
  const code = String(error.code);
  refused(code, locationOf(error));
  const sentence = SENTENCES[code] ?? `Excel could not do this (${code}).`;
  return new HostError(sentence, { cause: error });
}

/** Which member of Excel's it was, where that is told. */
function locationOf(error: object): unknown {
  const { debugInfo }: { readonly debugInfo?: { readonly errorLocation?: unknown } } = error;
  return debugInfo?.errorLocation;
}

/** Whether an error is one that Excel reports, by its code. */
export function isExcelFault(error: unknown): error is { readonly code: unknown } {
  return typeof error === "object" && error !== null && "code" in error;
}

/** Whether an answer was refused for its size. */
export function isTooLarge(error: unknown): boolean {
  return isExcelFault(error) && error.code === "ResponsePayloadSizeLimitExceeded";
}
