/** Where what is typed into cells goes: the library puts it into the grid or at the end of the page. */
const EDITORS = '[id^="univer-doc-selection-container"]';

/** Whether an element belongs to the grid. */
export function isOfGrid(container: HTMLElement, element: EventTarget | null): boolean {
  if (!(element instanceof Element)) return false;
  return container.contains(element) || element.closest(EDITORS) !== null;
}

/** Who may have the keyboard. */
interface Guard {
  /** Somebody comes to the grid. */
  readonly invite: () => void;
  /** The grid lets go of the keyboard where nobody came. */
  readonly rest: () => void;
}

/**
 * Keeps the library from taking the keyboard by itself, which it does whenever nothing else has it: the grid
 * has it only once somebody pressed into it, or came by a key.
 */
export function guardKeyboard(container: HTMLElement): Guard {
  let invited = false;
  let tabbing = false;
  const isEditor = (at: EventTarget | null): at is HTMLElement =>
    at instanceof HTMLElement && at.closest(EDITORS) !== null;
  const rest = (): void => {
    if (!invited && isEditor(document.activeElement)) document.activeElement.blur();
  };
  const listen = (kind: string, hear: (event: Event) => void): void => {
    document.addEventListener(kind, hear, { capture: true });
  };
  listen("pointerdown", ({ target }) => {
    invited = isOfGrid(container, target);
  });
  listen("keydown", (event) => {
    tabbing = event instanceof KeyboardEvent && event.key === "Tab";
    setTimeout(() => {
      tabbing = false;
    });
  });
  listen("focusin", ({ target }) => {
    if (!isEditor(target) || invited || tabbing) {
      invited = isOfGrid(container, target);
      return;
    }
    target.blur();
    // Some browsers let go only of what has the keyboard already.
    setTimeout(rest);
  });
  return {
    rest,
    invite() {
      invited = true;
    },
  };
}
