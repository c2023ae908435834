import { type CellPlace, notice } from "../records/problems.ts";
import type { Part, Problem } from "../records/records.ts";
import { remarkReader } from "../headings/remark-text.ts";
import { keyOf } from "../workbook/cells.ts";
import { placeIn, unweighed } from "./comments.ts";
import type { Named } from "./devices.ts";
import { allHeard } from "./remarks-heard.ts";
import type { Found } from "./register.ts";
import { spokenOf } from "./spoken-of.ts";
import { faultLater, withWords } from "./told-later.ts";

/** What people wrote beside devices: rows it speaks against, and what is told. */
interface Remarks {
  readonly rows: ReadonlySet<number>;
  /** By row the codes of parts that they speak against, where they say nothing of the rest. */
  readonly parts: ReadonlyMap<number, readonly string[]>;
  readonly problems: readonly Problem[];
}

/**
 * Remarks in columns of notes and states, and comments to other cells of their rows than dates. A remark that withdraws or condemns
 * puts its row in doubt, or the parts alone that it names; one that speaks of a part in words that are not weighed is told.
 */
export function readRemarks(
  found: Found,
  named: readonly Named[],
  parts: readonly Part[],
): Remarks {
  const { says, onlyOf } = remarkReader(parts);
  const rows = new Set<number>();
  const doubted = new Map<number, readonly string[]>();
  const serving = named.filter(({ retired }) => !retired);
  const told = new Set<string>();
  const namedIn = spokenOf(serving);
  const problems = allHeard(found, serving, { says, parts }).flatMap(
    ({ device, row, column, text, said = text, beside = [said], heard }): Problem[] => {
      const place = placeIn(found, row, column);
      if (heard === "comment") return [unweighed(place, text)];
      if (heard === "against") {
        // What names another device may be of that one.
        const of = [...new Set([...(device === null ? [] : [device]), ...namedIn(beside)])];
        if (of.length === 0) return [];
        const codes = onlyOf(said);
        for (const one of of) {
          if (codes === null) rows.add(one.row);
          else doubted.set(one.row, [...(doubted.get(one.row) ?? []), ...codes]);
        }
        const kind = codes === null ? "remark" : "part remark";
        const ids = of.map(({ id }) => id);
        return [faultLater(kind, place, "against", text, ids, codes)];
      }
      const before = told.size;
      return told.add(keyOf(text)).size > before ? [openRemark(place, text)] : [];
    },
  );
  return { rows, parts: doubted, problems };
}

function openRemark(place: CellPlace, text: string): Problem {
  return withWords(notice("unweighed remark", place, "", ""), "openRemark", text);
}
