import { plain } from "../xml/references.ts";

/** What older programs show in place of a shape: words of the program, not of people. */
const FALLBACK = "mc:Fallback";
/** The text of one shape, paragraph by paragraph. Source: ECMA-376 part 1, 20.5.2 and 21.1.2 (from memory). */
const BODY = /<(?:\w+:)?txBody[\s>]/;
const BODY_END = /<\/(?:\w+:)?txBody>/;
const PARAGRAPH_END = /<\/(?:\w+:)?p>/;
const TEXT = /<(?:\w+:)?t(?:\s[^<>]*)?>([^<]*)</g;

/**
 * What people wrote in the shapes and text boxes of a drawing, each once. Nothing else is asked of a drawing, so it is
 * not read as a tree: one that is not whole keeps no workbook from being read.
 */
export function shapeTexts(drawing: string): string[] {
  if (!drawing.includes("txBody")) return [];
  const [first = "", ...later] = drawing.split(`<${FALLBACK}>`);
  const shown = [first, ...later.map((piece) => piece.split(`</${FALLBACK}>`)[1] ?? "")].join("");
  const texts = shown
    .split(BODY)
    .slice(1)
    .map((body) => textIn(body.split(BODY_END)[0] ?? ""));
  return [...new Set(texts.filter((text) => text !== ""))];
}

function textIn(body: string): string {
  const paragraphs = body.split(PARAGRAPH_END);
  const lines = paragraphs.map((paragraph) =>
    [...paragraph.matchAll(TEXT)].map(([, said = ""]) => plain(said)).join(""),
  );
  return lines.join("\n").trim();
}
