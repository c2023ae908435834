import type { Section } from "./state.ts";

/** What the sections are called. */
export const TITLES: Readonly<Record<Section, string>> = {
  today: "Today",
  columns: "Columns",
  log: "Log",
  ahead: "Year ahead",
  budget: "Budget",
  order: "Order",
  share: "Share",
  check: "Check",
  functions: "Functions",
};
