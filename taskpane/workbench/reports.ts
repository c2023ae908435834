import { reportsIn } from "../../src/book/sheets/reports.ts";
import type { Bench } from "./host.ts";

const NONE =
  "No reports yet: Year ahead, Budget, Order and Share, on the right, add them to this workbook as sheets.";

/** The list of sheets of results; a press on one shows it in the grid. */
export function listReports(menu: HTMLDetailsElement, bench: Bench): void {
  const list = menu.querySelector("ul");
  // Read when it is asked for: so it is never out of date.
  menu.addEventListener("toggle", () => {
    if (!menu.open) return;
    const listed = bench.snapshot().then((book) => {
      const items = reportsIn(book).map(({ sheet, asOf }) =>
        inItem(
          buttonTo(`${sheet}, as of ${asOf}`, () => {
            menu.open = false;
            void bench.select({ sheet, row: 0, column: 0 });
          }),
        ),
      );
      list?.replaceChildren(...(items.length > 0 ? items : [inItem(NONE)]));
    });
    listed.catch(() => {
      list?.replaceChildren(inItem(NONE));
    });
  });
  menu.addEventListener("keydown", (event) => {
    if (event.key !== "Escape") return;
    menu.open = false;
    menu.querySelector("summary")?.focus();
  });
}

function buttonTo(text: string, press: () => void): HTMLButtonElement {
  const button = document.createElement("button");
  button.type = "button";
  button.className = "bench-button";
  button.textContent = text;
  button.addEventListener("click", press);
  return button;
}

function inItem(content: string | Node): HTMLLIElement {
  const item = document.createElement("li");
  item.append(content);
  return item;
}
