import { part } from "./page.ts";
import type { Grid } from "./sheets.ts";

/** What can be reached by keyboard, outside the grid. */
const REACHED =
  "button:not(:disabled), summary, a[href], select:not(:disabled), textarea:not(:disabled), input:not(:disabled)";

/**
 * F6 goes from the bar to the grid, to the pane and round again, Shift and F6 the other way: the grid keeps
 * Tab for its cells, and nobody is kept in it (WCAG 2.1.2).
 */
export function listenToKeys(grid: Grid): void {
  const [bar, pane] = [part("bar"), part("pane")];
  const rooms = [
    {
      has: (at: Element | null): boolean => bar.contains(at),
      enter: () => {
        focusFirst(bar);
      },
    },
    {
      has: (at: Element | null): boolean => grid.has(at),
      enter: () => {
        grid.focus();
      },
    },
    {
      has: (at: Element | null): boolean => pane.contains(at),
      enter: () => {
        focusFirst(pane);
      },
    },
  ];
  const hear = (event: KeyboardEvent): void => {
    if (event.key !== "F6" || event.ctrlKey || event.altKey || event.metaKey) return;
    event.preventDefault();
    event.stopPropagation();
    const at = rooms.findIndex(({ has }) => has(document.activeElement));
    // From nowhere the first press goes to the grid's neighbour in that direction: the bar, or the pane.
    const next = at < 0 ? (event.shiftKey ? -1 : 0) : at + (event.shiftKey ? -1 : 1);
    rooms.at(next % rooms.length)?.enter();
  };
  // Before the grid hears of it.
  addEventListener("keydown", hear, { capture: true });
}

function focusFirst(room: HTMLElement): void {
  const found = [...room.querySelectorAll<HTMLElement>(REACHED)];
  found.find((one) => one.getClientRects().length > 0)?.focus();
}
