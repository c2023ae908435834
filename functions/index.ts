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

/** Every worksheet function, in the order in which help shows them. */
export const functions: readonly Definition[] = [
  SPAN,
  NEXTDUE,
  DUESTATE,
  CHECKBY,
  CHECKSKEPT,
  USERATE,
  USEAHEAD,
  REPLACEAHEAD,
  YEARNEED,
  LIFEFIT,
  SURVIVE,
  BESTSPAN,
  REORDERPOINT,
  STOCKODDS,
  EXPECTEDSHORT,
  ORDERSIZE,
  ECONOMICORDER,
  ORDERBY,
  PLACESPARES,
  PACKCOST,
  BUDGETAT,
  KEPTRATE,
  ROWCHECK,
  LABELPART,
];
