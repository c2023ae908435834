import type { Desk } from "../state/desk.ts";
import type { Show } from "../state/show.ts";
import type { Opened, State } from "../state/state.ts";

/** What every section of a read workbook is given. */
export interface SectionGiven {
  readonly state: State;
  readonly book: Opened;
  readonly desk: Desk;
  readonly show: Show;
}
