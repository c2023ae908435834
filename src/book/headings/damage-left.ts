import { isQuestion } from "../languages/words-of.ts";
import type { WorkToken } from "./work-tokens.ts";

/** Between two statements of a remark; a question keeps its mark. */
const BETWEEN =
  /[;,!\n]+|(?<=\?)|[.:](?=\s|$)|\s[-\u2013\u2014]\s|\s(?:and|but|also|und|aber|et|mais|y|pero|mas|ma|en|maar|ale|oraz)\s/iu;

/** The statements of a remark. */
export function statementsOf(text: string): string[] {
  return text.split(BETWEEN).filter((statement) => /[\p{L}\p{N}]/u.test(statement));
}

/** How the words of a remark are understood. */
interface Understood {
  readonly tokensOf: (text: string) => readonly WorkToken[];
  /** Codes of the parts that words name. */
  readonly codesOf: (tokens: readonly WorkToken[]) => readonly string[];
}

interface Statement {
  readonly text: string;
  readonly tokens: readonly WorkToken[];
  /** Parts it speaks of: its own, else those named before it. */
  readonly codes: readonly string[];
  readonly own: readonly string[];
}

/**
 * Whether damage that a remark names is left, though it also says that something was replaced: another part was, or
 * the part before it was damaged, or nobody says so for certain. Why a part was replaced is not left.
 */
export function damageLeft(text: string, { tokensOf, codesOf }: Understood): boolean {
  const statements: Statement[] = [];
  for (const one of statementsOf(text)) {
    const tokens = tokensOf(one);
    const own = codesOf(tokens);
    const codes = own.length > 0 ? own : (statements.at(-1)?.codes ?? []);
    statements.push({ text: one, tokens, codes, own });
  }
  return statements.some(
    (one, at) =>
      says(one, "damaged") && !statements.some((other, nth) => mends(other, one, nth - at)),
  );
}

function says({ tokens }: Statement, sense: WorkToken["senses"][number]): boolean {
  return tokens.some(({ senses }) => senses.includes(sense));
}

/** Whether one statement says that what another calls damaged was replaced; so many after it. */
function mends(one: Statement, damaged: Statement, after: number): boolean {
  if (!says(one, "replaced") || says(one, "later") || isQuestion(one.text)) return false;
  // In one breath with another part nobody can tell which of them was replaced.
  if (after === 0) return one.own.length < 2;
  // A day of its own is of something that came later.
  if (after < 0 && /\d/u.test(damaged.text)) return false;
  const { own } = one;
  return own.length === 0 || damaged.codes.every((code) => own.includes(code));
}
