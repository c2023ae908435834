import { useEffect, useState } from "preact/hooks";
import { sentenceOf } from "./trouble.ts";

/** Something worked out after the page was painted. */
export interface Answer<T> {
  readonly value: T | null;
  /** Why there is none. */
  readonly trouble: string | null;
  readonly working: boolean;
}

/** Milliseconds in which somebody may still be typing. */
const TYPING = 120;

/** Works something out again whenever one of its inputs has changed, without holding up the page. */
export function useAnswer<T>(work: () => T, inputs: readonly unknown[]): Answer<T> {
  const [answer, setAnswer] = useState<Answer<T>>({ value: null, trouble: null, working: true });
  useEffect(() => {
    setAnswer((before) => ({ ...before, working: true }));
    const wait = answer.value === null ? 0 : TYPING;
    const timer = setTimeout(() => {
      try {
        setAnswer({ value: work(), trouble: null, working: false });
      } catch (error) {
        setAnswer({ value: null, trouble: sentenceOf(error), working: false });
      }
    }, wait);
    return () => {
      clearTimeout(timer);
    };
  }, inputs);
  return answer;
}
