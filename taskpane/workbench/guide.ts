import { part } from "./page.ts";

const STEPS = [
  "Today, on the right, lists what is overdue and what comes next. Click a line to see its row in the grid.",
  "Columns: press Preview the columns, look at the exact cells, then press Do it. Undo this change reverses it.",
  "Type in the grid as in any spreadsheet: change a date of last replacement and the due dates follow. =SPARE. begins the worksheet functions.",
  "F6 goes from the bar to the grid, to the pane and round again; Shift+F6 goes the other way.",
  "Log: record a replacement or a finding for a device; its due date moves with it.",
  "Save. The file keeps everything it had; parts that were not touched stay exactly the same, byte for byte.",
];

const SEEN = "sparespan.guide";

/** Shows the first steps, one at a time, until somebody puts them away for good. */
export function showGuide(): void {
  const guide = part("guide");
  let at = 0;
  const show = (): void => {
    part("step").textContent = `Step ${at + 1} of ${STEPS.length}. ${STEPS[at] ?? ""}`;
    part("before").toggleAttribute("disabled", at === 0);
    part("next").toggleAttribute("disabled", at === STEPS.length - 1);
  };
  part("before").addEventListener("click", () => {
    at -= 1;
    show();
  });
  part("next").addEventListener("click", () => {
    at += 1;
    show();
  });
  part("guided").addEventListener("click", () => {
    guide.hidden = true;
    remember();
  });
  show();
  guide.hidden = remembered();
}

/** Whether the word is there at all; what it says is never read, so there is nothing to check. */
function remembered(): boolean {
  try {
    return localStorage.getItem(SEEN) !== null;
  } catch {
    return false;
  }
}

function remember(): void {
  try {
    localStorage.setItem(SEEN, "seen");
  } catch {
    // A browser that keeps nothing shows the steps again.
  }
}
