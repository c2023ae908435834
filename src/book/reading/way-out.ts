import { wayOut } from "../headings/no-register.ts";
import { BookError } from "../workbook/errors.ts";
import { NoRegisterError, whyNone } from "./register.ts";

/** An error of reading; where no register was found, with the way out of it. */
export function explained(error: unknown): unknown {
  if (!(error instanceof NoRegisterError)) return error;
  const { choices, pages, matcher } = error;
  // A heading row that was said wrongly is put right where it was said.
  const way = choices.headerRow === null ? wayOut(pages, matcher) : null;
  return new BookError(whyNone(choices, way));
}

/** What a reading gives, its errors explained. */
export function explaining<T>(read: () => T): T {
  try {
    return read();
  } catch (error) {
    throw explained(error);
  }
}
