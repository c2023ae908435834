import type { Day } from "../../src/core/day.ts";
import { type OpenedFile, pickedFile } from "./file.ts";
import { canPick, fileInPlace, type Handle, pickHandle } from "./in-place.ts";
import { part } from "./page.ts";

/** What opening needs of the page around it. */
interface Opening {
  /** Opens what will be found; nothing happens where that is null. */
  readonly open: (find: () => Promise<OpenedFile | null>) => Promise<void>;
  readonly today: () => Day;
}

/** Hears when somebody picks a file or drops one on the page. */
export function listenToOpening(opening: Opening): void {
  listenToPicks(opening);
  listenToDrops(opening);
}

function listenToPicks({ open, today }: Opening): void {
  const pick = part("pick");
  if (!(pick instanceof HTMLInputElement)) return;
  pick.addEventListener("change", () => {
    const [picked] = pick.files ?? [];
    if (picked !== undefined) void open(() => pickedFile(picked));
    // The same file once more is a choice too.
    pick.value = "";
  });
  let plain = !canPick();
  pick.addEventListener("click", (event) => {
    if (plain) return;
    event.preventDefault();
    void open(async () => {
      try {
        const handle = await pickHandle();
        return handle === null ? null : await fileInPlace(handle, today);
      } catch (error) {
        if (!(error instanceof DOMException)) throw error;
        // Somebody's rules bar the browser from it: the field for files does what every browser can.
        plain = true;
        pick.click();
        return null;
      }
    });
  });
}

function listenToDrops({ open, today }: Opening): void {
  const mark = (on: boolean): void => {
    document.body.classList.toggle("bench-dropping", on);
  };
  addEventListener("dragover", (event) => {
    event.preventDefault();
    mark(true);
  });
  addEventListener("dragleave", (event) => {
    if (event.relatedTarget === null) mark(false);
  });
  addEventListener("drop", (event) => {
    event.preventDefault();
    mark(false);
    const [file] = event.dataTransfer?.files ?? [];
    // Asked at once: what was dropped is gone when the event is over.
    const handle = handleOf(event.dataTransfer?.items[0]);
    if (file === undefined) return;
    void open(async () => {
      const found = await handle.catch(() => null);
      return found?.kind === "file" ? fileInPlace(found, today) : pickedFile(file);
    });
  });
}

function handleOf(item: DataTransferItem | undefined): Promise<Handle | null> {
  const asked = item as { getAsFileSystemHandle?: () => Promise<Handle | null> } | undefined;
  return asked?.getAsFileSystemHandle?.() ?? Promise.resolve(null);
}
