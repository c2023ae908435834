import { deviceKey } from "../../records/device-key.ts";
import { identifierAt } from "../../workbook/cells.ts";
import type { Found } from "../register/register.ts";

/**
 * What else stands for one device alone in its row, such as an old number or the serial number, by its key: counts may go
 * by it.
 */
export function otherNames(founds: readonly Found[]): ReadonlyMap<string, string> {
  const names = new Map<string, string | null>();
  for (const { page, register, columns } of founds) {
    const device = columns.get("device") ?? 0;
    for (const row of register.rows) {
      const own = deviceKey(identifierAt(page, row, device));
      register.headings.forEach((heading, column) => {
        const name = deviceKey(identifierAt(page, row, column));
        if (heading === "" || column === device || name === "" || own === "") return;
        const before = names.get(name);
        names.set(name, before === undefined || before === own ? own : null);
      });
    }
  }
  return new Map([...names].flatMap(([name, own]) => (own === null ? [] : [[name, own] as const])));
}
