import { expect, it } from "vitest";
import { jobIndex } from "../../../src/book/records/job-index.ts";
import { DEFAULT_PARTS } from "../../../src/book/records/parts.ts";
import type { Part } from "../../../src/book/records/records.ts";
import { jobOf, oursOf } from "../../scenes/scene.ts";

const [SET] = DEFAULT_PARTS as readonly [Part];

it("of two logs nobody knows which was written first on a day: what was found stays open", () => {
  const found = { job: "inspected", finding: "crack", complete: null };
  const answered = (sheet: string): boolean => {
    const jobs = [
      jobOf("HS-1", "SET", "2026-05-04", { ...found, sheet: "Diary" }),
      jobOf("HS-1", "SET", "2026-05-04", { sheet }),
    ];
    const log = jobIndex(oursOf({}, { jobs }));
    const [finding] = log.all;
    return finding !== undefined && log.answerTo(finding, SET) !== null;
  };
  expect([answered("Diary"), answered("Job log")]).toEqual([true, false]);
});
