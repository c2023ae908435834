/** Parts of the grid that have no words of their own, and what they are called; a list goes by their order. */
const NAMES: readonly (readonly [part: string, names: readonly string[]])[] = [
  ['[data-u-comp="defined-name"] input', ["Cell at hand"]],
  ['[data-u-comp="defined-name"] [aria-haspopup]', ["Names in this workbook"]],
  ['[data-u-comp="formula-bar"] button', ["Show more of the cell"]],
  ['[data-u-comp="sheet-bar-append-button"]', ["All sheets", "Earlier sheets", "Later sheets"]],
  ['[data-u-comp="editor"]', ["Cells; F6 leaves the grid"]],
];

/** Gives the parts of the grid their names, as often as it draws them, and takes the cells' pictures out of the way of Tab. */
export function nameParts(container: HTMLElement): void {
  const name = (): void => {
    for (const [found, names] of NAMES) {
      document.querySelectorAll(found).forEach((element, at) => {
        const wanted = names[at] ?? "";
        if (element.getAttribute("aria-label") !== wanted)
          element.setAttribute("aria-label", wanted);
      });
    }
    for (const picture of container.querySelectorAll('canvas[tabindex="1"]')) {
      picture.setAttribute("tabindex", "-1");
    }
  };
  new MutationObserver(name).observe(container, { childList: true, subtree: true });
  name();
}
