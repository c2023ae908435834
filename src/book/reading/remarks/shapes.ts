import { remarkReader } from "../../headings/remark-text.ts";
import { namesPart, partWords } from "../../headings/part-words.ts";
import { ruleReader } from "../../headings/rule-text.ts";
import { listed, notice, wholeSheet } from "../../records/problems.ts";
import type { Part, Problem } from "../../records/records.ts";
import type { Page } from "../../workbook/cells.ts";
import { firstWords } from "../told/first-words.ts";
import type { Named } from "../devices/devices.ts";
import { devicesIn } from "../devices/devices-in-text.ts";

/** Texts named in the sentence; the rest are counted. */
const NAMED = 4;

/**
 * What is written in shapes and text boxes over the cells: none of it is read, so it is told, and before all figures
 * where it names a device or a part, states a limit or condemns something.
 */
export function shapesTold(
  pages: readonly Page[],
  {
    devices,
    parts,
  }: { readonly devices: () => ReadonlyMap<string, Named>; readonly parts: readonly Part[] },
): Problem[] {
  const drawn = pages.filter(({ sheet }) => sheet.shapes !== undefined);
  if (drawn.length === 0) return [];
  const { tokensOf } = partWords(parts);
  const { says } = remarkReader(parts);
  const rules = ruleReader(parts.filter(({ task }) => !task));
  const matters = (text: string): boolean =>
    namesPart(tokensOf(text)) ||
    says(text) === "against" ||
    rules.states(text) ||
    devicesIn(text, devices()).length > 0;
  return drawn.flatMap(({ sheet: { name, shapes = [] } }) =>
    [true, false].flatMap((urgent): Problem[] => {
      const texts = shapes.filter((text) => matters(text) === urgent);
      if (texts.length === 0) return [];
      const said = listed(texts.map(firstWords), NAMED);
      return [
        notice(
          urgent ? "shape not read" : "unweighed remark",
          wholeSheet(name),
          `A shape over the cells of ${name} says ${said}; it is not read.`,
          "See whether it ends the life of a part, states a limit or changes a date; if so, put that into the register, the Job log or Parts.",
        ),
      ];
    }),
  );
}
