const STEPS = [
  "Today, on the right, lists what is overdue and what comes next; click a line to see its row in the grid.",
  "Columns: choose the parts, press Propose, look at the exact cells, then Apply. Due dates and states stand beside your rows.",
  "Type in the grid as in any spreadsheet: change a last replacement and the dates follow. Begin a cell with =SPARE. to use the functions yourself.",
  "Log: record a replacement or a finding for the selected device; the due date moves with it.",
  "Save. The file keeps everything it had; what was not touched keeps its bytes.",
];

const SEEN = "sparesheet.guide";

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
  document.getElementById("guided")?.addEventListener("click", () => {
    guide.hidden = true;
    remember();
  });
}

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
