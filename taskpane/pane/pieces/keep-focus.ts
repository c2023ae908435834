/** Where the foot says what just happened. */
export const SAID = "said";

/**
 * Sees to it that the keyboard is never lost to the page: where what had the focus is gone, it goes on at what
 * just happened. Gives what ends it.
 */
export function keepFocus(root: HTMLElement): () => void {
  let last: Element | null = null;
  const note = ({ target }: FocusEvent): void => {
    last = target instanceof Element ? target : null;
  };
  const look = (): void => {
    if (last === null || last.isConnected || document.activeElement !== document.body) return;
    last = null;
    document.getElementById(SAID)?.focus({ preventScroll: true });
  };
  const watching = new MutationObserver(look);
  root.addEventListener("focusin", note);
  watching.observe(root, { childList: true, subtree: true });
  return () => {
    root.removeEventListener("focusin", note);
    watching.disconnect();
  };
}

/** Puts the keyboard, and the eye, at the beginning of something; what is in view already stays where it is. */
export function focusOn(found: HTMLElement | null, whole?: Element | null): void {
  if (found === null) return;
  found.focus({ preventScroll: true });
  if (!whole) found.scrollIntoView({ block: "start" });
  else whole.scrollIntoView({ block: "nearest" });
}
