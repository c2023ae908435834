import { type CellPlace, notice } from "../../records/problems.ts";
import type { Part, Problem } from "../../records/records.ts";
import { remarkReader } from "../../headings/remark-text.ts";
import { keyOf } from "../../workbook/cells.ts";
import { placeIn } from "../register/cell-place.ts";
import { unweighed } from "./comments.ts";
import type { Named } from "../devices/devices.ts";
import { allHeard, type Heard } from "./remarks-heard.ts";
import type { Found } from "../register/register.ts";
import { spokenOf } from "./spoken-of.ts";
import { faultLater, withWords } from "../told/told-later.ts";

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
  const reader = remarkReader(parts);
  const { says, onlyOf, exchanged } = reader;
  const rows = new Set<number>();
  const doubted = new Map<number, readonly string[]>();
  const serving = named.filter(({ retired }) => !retired);
  const told = new Set<string>();
  const namedIn = spokenOf(serving);
  // What went to another device is heard where that one is named.
  const hears = (text: string, isStatus?: boolean): ReturnType<typeof says> => {
    const heard = says(text, isStatus);
    return heard === "nothing" && exchanged(text) !== false ? "open" : heard;
  };
  const put = (row: number, codes: readonly string[] | null): void => {
    if (codes === null) rows.add(row);
    else doubted.set(row, [...(doubted.get(row) ?? []), ...codes]);
  };
  /** Devices against whose parts a remark speaks, and which parts; null where it speaks against none. */
  const spokenAgainst = ({ device, text, said = text, beside = [said], heard, codes }: Heard) => {
    const swapped = heard !== "against" && exchanged(said);
    if (heard !== "against" && swapped === false) return null;
    // What names another device may be of that one.
    const of = [...new Set([...(device === null ? [] : [device]), ...namedIn(beside)])];
    if (swapped !== false && of.length < 2) return null;
    if (codes !== undefined) return { of, codes };
    return { of, codes: swapped === false ? onlyOf(said) : swapped };
  };
  const problems = allHeard(found, serving, { ...reader, says: hears, parts }).flatMap(
    (one): Problem[] => {
      const { row, column, text, heard } = one;
      const place = placeIn(found, row, column);
      const against = spokenAgainst(one);
      if (against !== null) {
        const { of, codes } = against;
        for (const device of of) put(device.row, codes);
        const kind = codes === null ? "remark" : "part remark";
        const ids = of.map(({ id }) => id);
        return of.length === 0 ? [] : [faultLater(kind, place, "against", text, ids, codes)];
      }
      if (heard === "comment") return [unweighed(place, text)];
      if (says(text) === "nothing" || told.has(keyOf(text))) return [];
      told.add(keyOf(text));
      return [openRemark(place, text)];
    },
  );
  return { rows, parts: doubted, problems };
}

function openRemark(place: CellPlace, text: string): Problem {
  return withWords(notice("unweighed remark", place, "", ""), "openRemark", text);
}
