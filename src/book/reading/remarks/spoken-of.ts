import { deviceKey } from "../../records/device-key.ts";
import { isBlank, textOf } from "../../workbook/cells.ts";
import type { Named } from "../devices/devices.ts";
import { devicesIn, nameable } from "../devices/devices-in-text.ts";
import type { Found } from "../register/register.ts";
import { FOOT, NO_DEVICE, NOTE, STATE } from "../rows/rows.ts";

/** What stands in a row that is no device's: below the list, between its devices, or without a name. */
export interface Aside {
  readonly row: number;
  /** The first column that is filled. */
  readonly column: number;
  /** Its cells, one of which may be a device's number. */
  readonly texts: readonly string[];
  /** What it says in words. */
  readonly said: string;
}

const ASIDE: ReadonlySet<string> = new Set([FOOT, NO_DEVICE, NOTE, STATE]);

/** Rows of a register that are no device's, but may say something of one. */
export function asides({ page, register }: Found): Aside[] {
  return register.leftOut.flatMap(({ row, reason }): Aside[] => {
    if (!ASIDE.has(reason)) return [];
    const cells = page.sheet.values[row] ?? [];
    const filled = cells.filter((value) => !isBlank(value));
    const column = cells.findIndex((value) => !isBlank(value));
    const said = filled.filter((value) => typeof value === "string").join(" ");
    return [{ row, column, texts: filled.map(textOf), said }];
  });
}

/** Finds the devices that texts name: whole cells by whatever name, longer texts by names with letters and digits. */
export function spokenOf(named: readonly Named[]): (texts: readonly string[]) => Named[] {
  let known: Known | null = null;
  return (texts) => {
    known ??= {
      byKey: new Map(named.map((device) => [device.key, device])),
      inText: nameable([{ named }]),
    };
    const { byKey, inText } = known;
    return texts.flatMap((text) => byKey.get(deviceKey(text)) ?? devicesIn(text, inText));
  };
}

interface Known {
  readonly byKey: ReadonlyMap<string, Named>;
  readonly inText: ReadonlyMap<string, Named>;
}
