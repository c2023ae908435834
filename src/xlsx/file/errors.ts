/** A workbook that cannot be read or changed; the message is one sentence for people: what it is, what to do. */
export class WorkbookError extends Error {
  override readonly name = "WorkbookError";
}

/** A damaged part, and where. */
export function broken(part: string, why: string): WorkbookError {
  return new WorkbookError(
    `This workbook is damaged (${part}: ${why}): open it in your spreadsheet program, save it again and try with that copy.`,
  );
}
