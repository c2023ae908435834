import { deviceKey } from "../../records/device-key.ts";
import { alikeKey } from "../../records/alike-keys.ts";
import type { Fleet, Named } from "./devices.ts";

/** Words in the longest identifier that is looked for, as "North Screener HS 12". */
const LONGEST = 4;
const NAME = /^(?=.*\p{L})(?=.*\d)/u;

/** The devices of all registers that a text can name, by what their spellings have in common. */
export function nameable(fleets: readonly Pick<Fleet, "named">[]): ReadonlyMap<string, Named> {
  const all = fleets.flatMap(({ named }) => named);
  // A number alone may number anything, and a word may be any word.
  const names = all.filter(({ id }) => NAME.test(id));
  return new Map(names.reverse().map((device) => [alikeKey(device.key), device]));
}

/** The devices that a text names, in its order. */
export function devicesIn(text: string, devices: ReadonlyMap<string, Named>): Named[] {
  if (!/\d/.test(text)) return [];
  const words = [...text.matchAll(/[\p{L}\p{N}]+/gu)];
  return words.flatMap((word, at) =>
    words.slice(at, at + LONGEST).flatMap((last) => {
      const said = text.slice(word.index, last.index + last[0].length);
      return devices.get(alikeKey(deviceKey(said))) ?? [];
    }),
  );
}
