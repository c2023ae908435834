import { escaped } from "../xml/escape.ts";
import { appendTo, attributeAt, outlineOf, type Place, type Splice } from "../xml/outline.ts";
import { partKey } from "./package.ts";

/** The part that tells the type of every other. */
export const TYPES = "[Content_Types].xml";

/** Type of the parts that hold links. */
export const RELATIONS_TYPE = "application/vnd.openxmlformats-package.relationships+xml";

interface Told {
  readonly place: Place;
  /** Key of the part it is told of; null for the type of an ending. */
  readonly key: string | null;
  readonly ending: string | null;
  readonly type: string;
}

function toldIn(types: string): Told[] {
  return outlineOf(types, TYPES, "Types").children.map((place) => {
    const name = attributeAt(types, place, "PartName");
    return {
      place,
      key: name === null ? null : partKey(name),
      ending: attributeAt(types, place, "Extension")?.toLowerCase() ?? null,
      type: attributeAt(types, place, "ContentType") ?? "",
    };
  });
}

/** Keys of the parts that are named there, each as often as it is; a part named need not be in the file. */
export function namedIn(types: string): string[] {
  return toldIn(types).flatMap(({ key }) => (key === null ? [] : [key]));
}

/** The type of a part: its own, else that of its ending; null where neither is told. */
export function typeIn(types: string, path: string): string | null {
  const key = partKey(path);
  const told = toldIn(types);
  const own = told.find((one) => one.key === key);
  const ending = key.slice(key.lastIndexOf(".") + 1);
  return (own ?? told.find((one) => one.key === null && one.ending === ending))?.type ?? null;
}

/** The change that gives a part a type; none where it has that one. */
export function typing(types: string, path: string, type: string): Splice[] {
  if (typeIn(types, path) === type) return [];
  const { root, prefix } = outlineOf(types, TYPES, "Types");
  const xml = `<${prefix}Override PartName="/${escaped(path)}" ContentType="${type}"/>`;
  return appendTo(types, root, xml);
}
