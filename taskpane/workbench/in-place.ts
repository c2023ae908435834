import { isList } from "../../src/book/lists/list-book.ts";
import { type Day, isoText } from "../../src/core/day.ts";
import { HostError } from "../host.ts";
import { download, type OpenedFile, pickedFile } from "./file.ts";

/** What a browser gives that lets a page write the file somebody picked; only some do. */
export interface Handle extends Pick<FileSystemFileHandle, "kind" | "getFile" | "createWritable"> {
  readonly requestPermission?: (wish: { mode: "readwrite" }) => Promise<string>;
}

interface Picker {
  readonly showOpenFilePicker?: (options: object) => Promise<Handle[]>;
}

const KINDS = [
  {
    description: "Workbooks and lists",
    accept: {
      "application/octet-stream": [".xlsx", ".xlsm", ".csv", ".tsv", ".tab", ".txt"],
    },
  },
];

/** Whether this browser lets a page write a file it was given. */
export function canPick(): boolean {
  return typeof (globalThis as Picker).showOpenFilePicker === "function";
}

/** Lets somebody pick a file; null when nothing was picked. */
export async function pickHandle(): Promise<Handle | null> {
  try {
    const [handle] = (await (globalThis as Picker).showOpenFilePicker?.({ types: KINDS })) ?? [];
    return handle ?? null;
  } catch (error) {
    if (error instanceof DOMException && error.name === "AbortError") return null;
    throw error;
  }
}

/**
 * A file that is saved in its place. Before it is written for the first time, the file as it was goes to the
 * downloads under the day's date; a list becomes a workbook and lies nowhere yet.
 */
export async function fileInPlace(handle: Handle, today: () => Day): Promise<OpenedFile> {
  const opened = await pickedFile(await handle.getFile());
  const { name } = await handle.getFile();
  if (isList(name)) return opened;
  let held: Uint8Array<ArrayBuffer> = opened.bytes;
  let copied = false;
  let allowed = false;
  return {
    ...opened,
    async asked() {
      const asked = handle.requestPermission?.({ mode: "readwrite" }) ?? "granted";
      allowed = (await Promise.resolve(asked).catch(() => "denied")) === "granted";
    },
    async save(saved) {
      if (!allowed) {
        await opened.save(saved);
        return `The browser does not let this page write ${name}: it is in your downloads as it is now.`;
      }
      if (!isSame(await bytesOf(handle), held)) throw new HostError(changed(name));
      const copy = `${name.replace(/\.[^.]*$/, "")} before saving ${isoText(today())}${/\.[^.]*$/.exec(name)?.[0] ?? ""}`;
      if (!copied) download(copy, held);
      await write(handle, saved, name);
      const told = copied ? "" : ` The file as it was is in your downloads: ${copy}.`;
      copied = true;
      held = new Uint8Array(saved);
      return `Saved in ${name}.${told}`;
    },
  };
}

const changed = (name: string): string =>
  `The file ${name} has been changed by another program in the meantime; nothing was saved: open it again.`;

/** Writes the file whole or not at all, and looks whether it is there. */
async function write(handle: Handle, bytes: Uint8Array, name: string): Promise<void> {
  try {
    const stream = await handle.createWritable();
    await stream.write(new Uint8Array(bytes));
    await stream.close();
  } catch {
    throw new HostError(
      `The file ${name} could not be written: is it open in another program? Nothing was saved.`,
    );
  }
  if (isSame(await bytesOf(handle), bytes)) return;
  throw new HostError(`The file ${name} does not hold what was saved: save it once more.`);
}

async function bytesOf(handle: Handle): Promise<Uint8Array<ArrayBuffer>> {
  return new Uint8Array(await (await handle.getFile()).arrayBuffer());
}

function isSame(one: Uint8Array, other: Uint8Array): boolean {
  return one.length === other.length && one.every((byte, at) => byte === other[at]);
}
