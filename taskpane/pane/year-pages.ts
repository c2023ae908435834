// The sections that look a year ahead; they come after the pane is there already.
export { AheadSection } from "./ahead.tsx";
export { BudgetSection } from "./budget.tsx";
export { OrderSection } from "./order.tsx";
export { ShareSection } from "./share.tsx";
