import { useEffect, useRef, useState } from "preact/hooks";
import type { Entry } from "../../../src/book/day/entry-meant.ts";
import { keyOf } from "../../../src/book/workbook/cells.ts";
import type { Reading } from "../../../src/book/records/records.ts";
import type { Place } from "../../host.ts";
import type { Desk } from "./desk.ts";
import { LATER_WORDS } from "../words/later-words.ts";

/** A device, with its row and its register where it stands in several rows. */
export type RowMeant = Pick<Entry, "device" | "row" | "sheet">;

/** The device of the row that is selected in the workbook. */
export interface SelectedRow {
  /** Until the host has said which row is meant, nothing may be written down. */
  readonly asking: boolean;
  /** Somebody wants it now. */
  readonly take: () => void;
}

/**
 * Hands over the device of the selected row: when the section opens, when the person comes back from the
 * cells with another row selected, and when asked. A row that was meant before does not overrule what was
 * chosen since.
 */
export function useSelectedRow(desk: Desk, put: (meant: RowMeant) => void): SelectedRow {
  const meant = useRef("");
  const [asking, setAsking] = useState(false);
  const take = async (asked: boolean): Promise<void> => {
    setAsking(true);
    const place = await desk.ask((host) => host.selected());
    setAsking(false);
    const reading = desk.state().book?.reading;
    const device = place === null || reading === undefined ? null : deviceAt(reading, place);
    const row = place === null ? "" : `${place.sheet} ${place.row}`;
    if (device !== null && (asked || row !== meant.current)) put(device);
    if (device === null && asked) desk.say(LATER_WORDS.log.noRow);
    meant.current = row;
  };
  useEffect(() => {
    const back = (): void => void take(false);
    back();
    window.addEventListener("focus", back);
    return () => {
      window.removeEventListener("focus", back);
    };
  }, []);
  return { asking, take: () => void take(true) };
}

function deviceAt({ devices }: Reading, { sheet, row }: Place): RowMeant | null {
  const here = keyOf(sheet);
  const found = devices.find((one) => one.row === row && keyOf(one.sheet) === here);
  if (found === undefined) return null;
  const isOne = devices.filter(({ key }) => key === found.key).length === 1;
  return isOne
    ? { device: found.id, row: null, sheet: null }
    : { device: found.id, row: row + 1, sheet: found.sheet };
}
