import { useEffect, useState } from "preact/hooks";
import type { Steps } from "../../../src/book/workbook/steps.ts";
import { paced } from "../../pace.ts";
import { sentenceOf } from "./trouble.ts";
import { WORDS } from "../words/words.ts";

/** Something worked out after the page was painted. */
export interface Answer<T> {
  /** The last answer, also while the next one is being worked out. */
  readonly value: T | null;
  /** Why there is none. */
  readonly trouble: string | null;
  /** The answer is not yet that of the inputs. */
  readonly working: boolean;
  /** Gives the work up. */
  readonly stop: () => void;
  /** Begins once more; null unless it was given up. */
  readonly again: (() => void) | null;
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
export function useAnswer<T>(work: () => Steps<T>, given: Inputs): Answer<T> {
  const [turn, setTurn] = useState(0);
  const [stopped, setStopped] = useState<Inputs | null>(null);
  const [worked, setWorked] = useState<Worked<T>>({ inputs: null, value: null, trouble: null });
  const inputs = [...given, turn];
  const isStopped = isSame(stopped, inputs);
  useEffect(() => {
    if (isStopped) return undefined;
    const wait = worked.inputs === null ? 0 : TYPING;
    return begin(work, wait, (found) => {
      setWorked({ inputs, ...found });
    });
  }, [...inputs, isStopped]);
  const { value, trouble } = isStopped ? { value: null, trouble: WORDS.stopped } : worked;
  return {
    value,
    trouble,
    working: !isStopped && !isSame(worked.inputs, inputs),
    stop: () => {
      setStopped(inputs);
    },
    again: isStopped
      ? () => {
          setTurn(turn + 1);
        }
      : null,
  };
}

/** Begins work after a while; gives what ends it, after which nothing is told any more. */
function begin<T>(
  work: () => Steps<T>,
  wait: number,
  tell: (found: Pick<Worked<T>, "value" | "trouble">) => void,
): () => void {
  let ended = false;
  const unlessEnded = (): void => {
    if (ended) throw new Error(WORDS.stopped);
  };
  const timer = setTimeout(() => {
    working(work, unlessEnded).then(
      (value) => {
        if (!ended) tell({ value, trouble: null });
      },
      (error: unknown) => {
        if (!ended) tell({ value: null, trouble: sentenceOf(error) });
      },
    );
  }, wait);
  return () => {
    ended = true;
    clearTimeout(timer);
  };
}

/** What the work throws before its first step is told like all else. */
async function working<T>(work: () => Steps<T>, rested: () => void): Promise<T> {
  return paced(work(), rested);
}

function isSame(one: Inputs | null, other: Inputs): boolean {
  return one !== null && one.every((value, at) => Object.is(value, other[at]));
}
