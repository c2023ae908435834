const STEPS = [
  "Today, on the right, lists what is overdue and what comes next; click a line to see its row in the grid.",
  "Columns: press Show the columns, look at the exact cells, then press Do it. Due dates and states appear beside your rows; Undo this change reverses it.",
  "Type in the grid as in any spreadsheet: change a date of last replacement and the due dates follow. A cell that begins with =SPARE. uses the worksheet functions.",
  "Log: record a replacement or a finding for a device; its due date moves with it.",
  "Save. The file keeps everything it had; parts that were not touched stay exactly the same, byte for byte.",
];

const SEEN = "sparespan.guide";

/** Shows the guide until somebody puts it away for good. */
export function showGuide(): void {
  const guide = document.getElementById("guide");
  if (!(guide instanceof HTMLDetailsElement)) return;
  const list = guide.querySelector("ol");
  const items = STEPS.map((step) => {
    const item = document.createElement("li");
    item.textContent = step;
    return item;
  });
  list?.replaceChildren(...items);
  guide.hidden = remembered();
  guide.open = true;
  document.getElementById("guided")?.addEventListener("click", () => {
    guide.hidden = true;
    remember();
  });
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
    // A browser that keeps nothing shows the guide again.
  }
}
