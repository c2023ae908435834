import { h, render } from "preact";
import { App } from "./app.tsx";
import { type Desk, deskOver } from "./state/desk.ts";
import { keepFocus } from "./pieces/keep-focus.ts";
import { newStore } from "./state/state.ts";

/** Puts the pane into the page; what it is told then goes through the desk. */
export function mount(): Desk {
  const store = newStore();
  const desk = deskOver(store);
  const root = document.getElementById("pane");
  if (root === null) throw new Error("the page has no place for the pane");
  root.replaceChildren();
  keepFocus(root);
  render(h(App, { store, desk }), root);
  return desk;
}
