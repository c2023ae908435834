/** The caution that goes where there is room for one; alone, because the first list waits for no other. */
export const PLANNING_AID =
  "Planning aid: the maker's instructions and local infection-control policy win wherever they are stricter or different.";
