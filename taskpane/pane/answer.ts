import { useEffect, useState } from "preact/hooks";
import { sentenceOf } from "./trouble.ts";

/** Something worked out after the page was painted. */
export interface Answer<T> {
  /** The last answer, also while the next one is being worked out. */
  readonly value: T | null;
  /** Why there is none. */
  readonly trouble: string | null;
  /** The answer is not yet that of the inputs. */
  readonly working: boolean;
}

type Inputs = readonly unknown[];

interface Worked<T> {
  readonly inputs: Inputs | null;
  readonly value: T | null;
  readonly trouble: string | null;
}

/** Milliseconds in which somebody may still be typing. */
const TYPING = 120;

/** Works something out again whenever one of its inputs has changed, without holding up the page. */
export function useAnswer<T>(work: () => T, inputs: Inputs): Answer<T> {
  const [worked, setWorked] = useState<Worked<T>>({ inputs: null, value: null, trouble: null });
  useEffect(() => {
    const wait = worked.inputs === null ? 0 : TYPING;
    const timer = setTimeout(() => {
      try {
        setWorked({ inputs, value: work(), trouble: null });
      } catch (error) {
        setWorked({ inputs, value: null, trouble: sentenceOf(error) });
      }
    }, wait);
    return () => {
      clearTimeout(timer);
    };
  }, inputs);
  const { value, trouble } = worked;
  return { value, trouble, working: !isSame(worked.inputs, inputs) };
}

function isSame(one: Inputs | null, other: Inputs): boolean {
  return one !== null && one.every((value, at) => Object.is(value, other[at]));
}
