/** The mark of each state word, so that colour is never the only sign. */
export const MARKS = {
  Overdue: "▲",
  "Due soon": "◆",
  "Check row": "?",
  "Not due": "○",
  Retired: "–",
} as const;

/** Mark of a state word, "" for any other word. */
export function markOf(word: string): string {
  return Object.hasOwn(MARKS, word) ? MARKS[word as keyof typeof MARKS] : "";
}
