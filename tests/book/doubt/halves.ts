import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import process from "node:process";
import { describe, expect, it } from "vitest";
import { cases } from "../../cases.ts";
import { HABITS } from "../../scenes/true-programme.ts";
import { type Study, studyOf } from "./study.ts";

type NotTold = Study["notTold"];

const PROGRAMMES = 500;
const INPUTS = 105;
const SOME_INPUTS = 35;
/** All of them take a quarter of an hour on two free cores, and longer beside other work. */
const PATIENCE = 3_600_000;
const LISTED = "tests/reference/not-told.json";
const FOUND = "build/report/not-told.json";

/** The study in two halves, so that two cores share it: programmes of even and of odd numbers. */
export function studyHalf(half: 0 | 1): void {
  describe("one input gone wrong in a true programme", () => {
    it(
      "never lengthens, hides or cheapens, and is told unless it could be true",
      { timeout: PATIENCE },
      () => {
        const programmes = cases("Programmes with one doubtful input", PROGRAMMES, HABITS.length);
        const seeds = Array.from({ length: programmes }, (_, seed) => seed);
        const inputs = cases("Inputs gone wrong in each", INPUTS, SOME_INPUTS);
        const study = studyOf(
          seeds.filter((seed) => seed % 2 === half),
          inputs,
        );
        process.stdout.write(
          `${study.cases.toLocaleString("en")} inputs gone wrong in half of ${programmes} programmes: ${study.broken.length} break the promise.\n`,
        );
        expect(study.broken).toEqual([]);
        const found = programmes < PROGRAMMES ? null : bothHalves(study.notTold, half);
        const listed = JSON.parse(readFileSync(LISTED, "utf8")) as NotTold;
        // Fewer programmes meet fewer of them.
        for (const [input, kinds] of Object.entries(study.notTold)) {
          expect(listed[input] ?? [], input).toEqual(expect.arrayContaining([...kinds]));
        }
        if (found === null) return;
        writeFileSync(FOUND, `${JSON.stringify(found, null, 2)}\n`);
        expect(listed, `README tells of ${LISTED}: compare with ${FOUND}`).toEqual(found);
      },
    );
  });
}

/** What both halves of this run have found; null for the half that ends first. */
function bothHalves(notTold: NotTold, half: 0 | 1): NotTold | null {
  const fileOf = (which: number): string =>
    `build/report/not-told-${process.ppid}-${which}-of-2.json`;
  mkdirSync("build/report", { recursive: true });
  writeFileSync(fileOf(half), JSON.stringify(notTold));
  const other = fileOf(1 - half);
  if (!existsSync(other)) return null;
  const beside = JSON.parse(readFileSync(other, "utf8")) as NotTold;
  const inputs = [...new Set([...Object.keys(notTold), ...Object.keys(beside)])];
  return Object.fromEntries(
    inputs
      .sort((one, next) => one.localeCompare(next, "en"))
      .map((input) => {
        const kinds = [...(notTold[input] ?? []), ...(beside[input] ?? [])];
        return [input, [...new Set(kinds)].sort()];
      }),
  );
}
