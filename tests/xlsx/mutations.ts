import { unzipSync, zipSync } from "fflate";
import { workbook } from "../reference/workbooks/full-plan.ts";

/** Damaged files for tests: bytes changed, parts changed as text. */

export type Random = (below: number) => number;

/** Numbers that look random and are the same each time (a linear congruence). */
export function numbers(seed: number): Random {
  let state = seed;
  return (below) => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return Math.floor((state / 2 ** 32) * below);
  };
}

/** A file with a few of its bytes changed. */
export function mutated(bytes: Uint8Array, random: Random): Uint8Array {
  const copy = bytes.slice();
  for (let times = random(3); times >= 0; times -= 1) copy[random(copy.length)] = random(256);
  return copy;
}

/** A fixture with one part changed as text: a piece taken out, doubled, or put elsewhere. */
export function mutatedPart(name: string, random: Random): Uint8Array {
  return mutatedPackage(workbook(name), random);
}

/** Any workbook with one part changed as text. */
export function mutatedPackage(bytes: Uint8Array, random: Random): Uint8Array {
  const files = unzipSync(bytes);
  const names = Object.keys(files).filter((part) => !/docProps|theme/.test(part));
  const part = names[random(names.length)] ?? "";
  const content = files[part] ?? new Uint8Array();
  const from = random(content.length);
  const to = Math.min(content.length, from + random(12));
  const piece = content.subarray(from, to);
  const at = random(3) === 0 ? random(content.length) : to;
  const kept = random(2) === 0 ? content.subarray(0, at) : content.subarray(0, Math.min(from, at));
  const changed = new Uint8Array([...kept, ...piece, ...content.subarray(at)]);
  return zipSync({ ...files, [part]: changed }, { level: 1 });
}
