import { itemsOf, outlineOf, positionOf, type Splice, spliced } from "../xml/outline.ts";
import { emptyStyles } from "./looks.ts";
import { STYLES_ORDER } from "./styles.ts";

/** The lists a cell format points into, and its own, with how many entries each must have at least. */
const LEAST: readonly (readonly [string, number])[] = [
  ["fonts", 1],
  // Programs keep the first two fills for none and grey, whatever stands there.
  ["fills", 2],
  ["borders", 1],
  ["cellStyleXfs", 1],
  ["cellXfs", 1],
];

/**
 * The styles part with the lists that were left out, each with the entries every cell has without them:
 * what a plan adds comes behind those, and points to lists that are there.
 */
export function wholeStyles(written: string, path: string, space: string): string {
  const text = opened(written, path);
  const outline = outlineOf(text, path, "styleSheet");
  const model = emptyStyles(space);
  const lists = outlineOf(model, path, "styleSheet").children;
  const splices: Splice[] = [];
  for (const [name, least] of LEAST) {
    const place = outline.children.find((child) => child.name === name);
    const kept = place ? itemsOf(text, place, path) : [];
    const list = lists.find((child) => child.name === name);
    if (!list || kept.length >= least) continue;
    const missing = itemsOf(model, list, path).slice(kept.length);
    const items = [
      ...kept.map(({ start, end }) => text.slice(start, end)),
      ...missing.map(({ start, end }) => prefixed(model.slice(start, end), outline.prefix)),
    ];
    const tag = `${outline.prefix}${name}`;
    const at = place?.start ?? positionOf(outline, STYLES_ORDER, name);
    const xml = `<${tag} count="${items.length}">${items.join("")}</${tag}>`;
    splices.push({ start: at, end: place?.end ?? at, xml });
  }
  return spliced(text, splices);
}

function prefixed(xml: string, prefix: string): string {
  return xml.replace(/<(\/?)/g, `<$1${prefix}`);
}

/** A root that was written without content has room for it. */
function opened(text: string, path: string): string {
  const { root, prefix } = outlineOf(text, path, "styleSheet");
  if (!root.empty) return text;
  const tag = text.slice(root.start, root.end - 2).trimEnd();
  return `${text.slice(0, root.start)}${tag}></${prefix}styleSheet>${text.slice(root.end)}`;
}
