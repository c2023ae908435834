import { USEAHEAD } from "./ahead.ts";
import { BUDGETAT, PACKCOST } from "./budget.ts";
import { USERATE } from "./counts.ts";
import type { Definition } from "./define.ts";
import { REPLACEAHEAD, YEARNEED } from "./need.ts";
import { CHECKBY, CHECKSKEPT, DUESTATE, NEXTDUE, ROWCHECK } from "./due.ts";
import { KEPTRATE } from "./compliance.ts";
import { LABELPART } from "./label.ts";
import { BESTSPAN, LIFEFIT, SURVIVE } from "./life.ts";
import { ECONOMICORDER, ORDERBY, ORDERSIZE } from "./order.ts";
import { PLACESPARES } from "./place.ts";
import { EXPECTEDSHORT, REORDERPOINT, STOCKODDS } from "./stock.ts";
import { SPAN } from "./usage.ts";

/** The worksheet functions by what somebody wants to know, in the order in which help shows them. */
export const GROUPS: readonly {
  readonly job: string;
  readonly functions: readonly Definition[];
}[] = [
  { job: "When something is due", functions: [SPAN, NEXTDUE, DUESTATE, CHECKBY, CHECKSKEPT] },
  { job: "How much devices are used", functions: [USERATE, USEAHEAD] },
  { job: "What the year needs", functions: [REPLACEAHEAD, YEARNEED] },
  { job: "How long parts last", functions: [LIFEFIT, SURVIVE, BESTSPAN] },
  {
    job: "What to keep and to order",
    functions: [
      REORDERPOINT,
      STOCKODDS,
      EXPECTEDSHORT,
      ORDERSIZE,
      ECONOMICORDER,
      ORDERBY,
      PLACESPARES,
    ],
  },
  { job: "What it costs", functions: [PACKCOST, BUDGETAT] },
  { job: "What was done, and whether a row is sound", functions: [KEPTRATE, ROWCHECK, LABELPART] },
];

/** Every worksheet function, in that order. */
export const functions: readonly Definition[] = GROUPS.flatMap((group) => group.functions);
