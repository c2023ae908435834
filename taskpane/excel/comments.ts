import { cellKey } from "../../src/book/workbook/snapshot.ts";
import type { Looked } from "./area.ts";

/** Asks for what people wrote to cells of each sheet; the answer comes with the next request. */
export function askComments(sheets: readonly Looked[]): Excel.CommentCollection[] {
  return sheets.map(({ sheet }) =>
    sheet.comments.load("items/content,items/replies/items/content"),
  );
}

/**
 * Comments of each sheet by cellKey; of a thread each answer after the one before. Notes, the older kind, are
 * not among them.
 */
export async function commentsIn(
  context: Excel.RequestContext,
  asked: readonly Excel.CommentCollection[],
): Promise<Map<number, string>[]> {
  const threads = asked.map(({ items }) =>
    items.map((comment) => ({
      said: [comment, ...comment.replies.items].map(({ content }) => content.trim()),
      place: comment.getLocation().load("rowIndex,columnIndex"),
    })),
  );
  if (threads.some(({ length }) => length > 0)) await context.sync();
  return threads.map(
    (ones) =>
      new Map(
        ones.map(({ said, place }) => [
          cellKey(place.rowIndex, place.columnIndex),
          said.filter((text) => text !== "").join("\n"),
        ]),
      ),
  );
}
