import type { Device, Reading, Register } from "./records.ts";

/** A reading with the devices of one of its registers only. */
export interface RegisterReading extends Reading {
  readonly register: Register;
}

const parted = new WeakMap<Reading, readonly RegisterReading[]>();

/** A reading register by register, for what is done sheet by sheet. */
export function eachRegister(reading: Reading): readonly RegisterReading[] {
  const known = parted.get(reading);
  if (known !== undefined) return known;
  const parts = reading.registers.map((register) => ({
    ...reading,
    register,
    devices: reading.devices.filter(({ sheet }) => sheet === register.sheet),
  }));
  parted.set(reading, parts);
  return parts;
}

/** The register that holds a device. */
export function registerOf({ registers }: Reading, { sheet }: Device): Register {
  const found = registers.find((register) => register.sheet === sheet);
  if (found === undefined) throw new Error(`no register ${sheet}`);
  return found;
}

/** Whether two devices are the same row of the same sheet; a reading made anew has other objects for it. */
export function isSameRow(
  one: Pick<Device, "sheet" | "row">,
  other: Pick<Device, "sheet" | "row">,
): boolean {
  return one.row === other.row && one.sheet === other.sheet;
}

/** Under which key the sheet of the first, second … register is chosen and remembered. */
export function registerKey(at: number): string {
  return at === 0 ? "register" : `register ${at + 1}`;
}

/** The sheets that are chosen as registers, in order; empty where none is. */
export function chosenRegisters(matches: ReadonlyMap<string, string>): string[] {
  return [...matches].flatMap(([key, sheet]) =>
    isRegisterKey(key) && sheet.trim() !== "" ? sheet.trim() : [],
  );
}

/** Choices in which one said for this run goes before what is remembered; registers go as a whole. */
export function chosenOver(
  remembered: ReadonlyMap<string, string>,
  said: ReadonlyMap<string, string>,
): ReadonlyMap<string, string> {
  const isSaid = [...said.keys()].some(isRegisterKey);
  const kept = [...remembered].filter(([key]) => !isSaid || !isRegisterKey(key));
  return new Map([...kept, ...said]);
}

function isRegisterKey(key: string): boolean {
  return /^register( \d+)?$/i.test(key.trim());
}

/** The sheets of the registers in words. */
export function registerNames({ registers }: Reading): string {
  const names = registers.map(({ sheet }) => sheet);
  const last = names.at(-1) ?? "";
  return names.length < 2 ? last : `${names.slice(0, -1).join(", ")} and ${last}`;
}
