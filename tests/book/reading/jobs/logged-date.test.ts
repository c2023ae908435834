import { describe, expect, it } from "vitest";
import { partialWork } from "../../../../src/book/reading/jobs/logged-date.ts";
import { JUNE, kitOf, logOf, readLog } from "../../../scenes/our-log.ts";
import type { Typed } from "../../../scenes/scene.ts";

/** What is told of the date of HS-01 beside its only row of the Job log. */
function said(part: Typed, complete: Typed): string | undefined {
  const log = logOf([[JUNE, "HS-01", part, "replaced", null, complete]]);
  const { problems } = readLog(kitOf("HS-01"), log).reading;
  const found = problems.find(({ kind }) => kind === "date of a partial set");
  return found === undefined ? undefined : `${found.cause} ${found.fix}`;
}

describe(partialWork.name, () => {
  it("names a part that Parts does not have", () => {
    expect(said("ELEC", "yes")).toBe(
      'On 2026-06-01 the log has a replacement of "ELEC", which is not on the Parts sheet, and none that counts. Write the code or the name of a part in that row; if the code on Parts was changed, change it back.',
    );
    expect(said(null, "yes")).toContain("a replacement of no part that is named");
  });

  it("says what is not marked, and what is marked as less", () => {
    expect(said("SET", null)).toContain("not marked as a complete set, and none that is");
    expect(said("SET", "no")).toContain("correct what stands under Complete set");
    expect(said("SET", "yes?")).toContain("does not count as a complete set");
  });

  it("says nothing of a complete one", () => {
    expect(said("SET", "yes")).toBeUndefined();
  });
});
