// What is not needed for the first list; it comes after the pane is there already.
export { AheadSection } from "./ahead.tsx";
export { Beginning } from "./beginning.tsx";
export { BudgetSection } from "./budget.tsx";
export { CheckSection } from "./check.tsx";
export { ColumnsSection } from "./columns.tsx";
export { FaultReport } from "./fault-report.tsx";
export { FunctionsSection } from "./functions.tsx";
export { LogSection } from "./log.tsx";
export { OrderSection } from "./order.tsx";
export { ProposalBox } from "./proposal.tsx";
export { QuickLog } from "./quick-log.tsx";
export { ShareSection } from "./share.tsx";
export { StartupSwitch } from "./startup-switch.tsx";
export { refreshStep } from "../state/requests.ts";
