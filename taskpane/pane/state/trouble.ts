import { BookError, PatientDataError } from "../../../src/book/workbook/errors.ts";
import { InputError, NoAnswerError } from "../../../src/core/errors.ts";
import { HostError } from "../../host.ts";
import type { Trouble } from "./state.ts";
import { WORDS } from "../words/words.ts";

/** An error as people see it: errors meant for people in their own words, our own faults as such. */
export function sentenceOf(error: unknown): string {
  const isForPeople =
    error instanceof BookError ||
    error instanceof HostError ||
    error instanceof InputError ||
    error instanceof NoAnswerError;
  if (!isForPeople) return WORDS.fault(String(error));
  const message = withoutOptions(error.message);
  const text = message.charAt(0).toUpperCase() + message.slice(1);
  return /[.!?]$/.test(text) ? text : `${text}.`;
}

/** Sentences of the book that name options of the command line, as the pane words them. */
export function withoutOptions(text: string): string {
  return text
    .replace(/ \(--again\)/, "")
    .replace(/, or give --(?:force|match "device=[^"]*")$/, "")
    .replace(/(?:give|choose one with) --match "[^"]*"/, WORDS.chooseThere);
}

/** Why a workbook could not be read. */
export function troubleOf(error: unknown): Trouble {
  const sentence = sentenceOf(error);
  if (error instanceof PatientDataError) return { kind: "patients", sentence };
  if (error instanceof BookError) return { kind: "register", sentence };
  return { kind: error instanceof HostError ? "host" : "fault", sentence };
}
