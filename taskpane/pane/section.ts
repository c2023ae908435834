import type { Desk } from "./desk.ts";
import type { Show } from "./show.ts";
import type { Opened, State } from "./state.ts";

/** What every section of a read workbook is given. */
export interface SectionGiven {
  readonly state: State;
  readonly book: Opened;
  readonly desk: Desk;
  readonly show: Show;
}
