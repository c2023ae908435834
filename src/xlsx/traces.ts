import { relationId } from "./xml/attributes.ts";
import { childrenOf, openingTag, outlineOf } from "./xml/outline.ts";
import {
  type Draft,
  draftHas,
  draftRelations,
  draftText,
  newDraft,
  removePart,
  splicePart,
  writeDraft,
} from "./package/draft.ts";
import { type Package, partKey, readPart, relationsPath } from "./package/package.ts";
import type { Book } from "./read/read-book.ts";

/** What the traces of an add-in are looked for in. */
interface Opened {
  readonly file: Package;
  readonly book: Book;
}

/** Parts of a package that hold text. */
const TEXTS = /\.(?:xml|rels|vml|json|txt)$/i;

/** Names of the parts in whose text a pattern is found. */
export function partsHolding({ file }: Opened, pattern: RegExp): string[] {
  return file.entries
    .map(({ name }) => name)
    .filter((name) => TEXTS.test(name) && pattern.test(readPart(file, name)));
}

/**
 * The bytes without the panes an add-in left in the file: spreadsheet programs note there which add-in
 * was open when the workbook was saved, and offer it again. Other add-ins' panes stay; null where there
 * is nothing of it.
 */
export function withoutPanes({ file, book }: Opened, addIn: string): Uint8Array | null {
  const draft = newDraft(file, book.strict);
  const lists = draftRelations(draft, "").filter(({ type }) => type === "webextensiontaskpanes");
  let found = false;
  for (const { target } of lists) {
    if (target !== null && draftHas(draft, target) && dropPanes(draft, target, addIn)) found = true;
  }
  return found ? writeDraft(draft) : null;
}

function dropPanes(draft: Draft, list: string, addIn: string): boolean {
  const wanted = addIn.toLowerCase();
  const ours = draftRelations(draft, list).filter(
    ({ target }) =>
      target !== null &&
      draftHas(draft, target) &&
      draftText(draft, target).toLowerCase().includes(wanted),
  );
  if (ours.length === 0) return false;
  const ids = new Set(ours.map(({ id }) => id));
  const text = draftText(draft, list);
  const panes = outlineOf(text, list, "taskpanes").children;
  const gone = panes.filter((pane) =>
    childrenOf(text, pane, list).some((child) =>
      ids.has(relationId(openingTag(text, child)) ?? ""),
    ),
  );
  for (const { target } of ours) {
    if (target === null) continue;
    removePart(draft, list, target);
    forget(draft, relationsPath(target));
  }
  if (gone.length === panes.length) {
    removePart(draft, "", list);
    forget(draft, relationsPath(list));
  } else {
    splicePart(
      draft,
      list,
      gone.map(({ start, end }) => ({ start, end, xml: "" })),
    );
  }
  return true;
}

/** Takes a part out that nothing links to, such as the links of a part that is gone. */
function forget(draft: Draft, path: string): void {
  const key = partKey(path);
  draft.removed.add(key);
  draft.changed.delete(key);
}
