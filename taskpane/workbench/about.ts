import { VERSION } from "../version.ts";
import { part } from "./page.ts";

/** What the page is, what it keeps, and whose work is inside. */
export function listenToAbout(): void {
  const about = part("about");
  if (!(about instanceof HTMLDialogElement)) return;
  part("about-title").textContent = `Sparespan workbench ${VERSION}`;
  part("tell").addEventListener("click", () => {
    about.showModal();
  });
}
