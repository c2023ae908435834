import { describe, expect, it } from "vitest";
import { damageLeft } from "../../../src/book/headings/damage-left.ts";
import { remarkReader } from "../../../src/book/headings/remark-text.ts";
import { workTokens } from "../../../src/book/headings/work-tokens.ts";
import { oursOf } from "../../scenes/scene.ts";

const { says } = remarkReader(oursOf().parts);

describe("a remark that names damage and a replacement", () => {
  it.each([
    "electrodes changed 1 Feb, cushion torn 30 May",
    "cushion torn, electrodes replaced",
    "1/2 el changed; 30/5 cushion torn",
    "cushion torn, replaced?",
    "cushion changed 1 Feb. Torn 30 May",
    "Elektroden gewechselt, Polster gerissen",
    "électrodes changées, coussinet déchiré",
    "electrodos cambiados, almohadilla rota",
    "elettrodi sostituiti, cuscinetto rotto",
    "eletrodos trocados, almofada rasgada",
    "elektroden vervangen, oorkussen gescheurd",
    "elektrody wymienione, poduszka pęknięta",
  ])("speaks against what was not replaced, or not for certain, or before: %s", (text) => {
    expect(says(text)).toBe("against");
  });

  it.each([
    "cushion torn, replaced",
    "cushion torn and replaced 1 Feb",
    "cushion torn 3 Feb, replaced 4 Feb, electrodes checked",
    "electrodes and cushion torn, replaced",
    "torn cushion replaced 30 May",
    "replaced, was torn",
    "changed 1 Feb, cracked",
    "cushion replaced because torn",
    "Polster gerissen, gewechselt",
    "cushion cracked; changed same day; electrodes changed",
  ])("leaves what says why a part was replaced: %s", (text) => {
    expect(says(text)).not.toBe("against");
  });

  it("leaves damage to the one part where two are named in one breath", () => {
    const understood = {
      tokensOf: (text: string) =>
        workTokens(text, (word) => word === "electrode" || word === "cushion"),
      codesOf: () => ["SET", "CUSHION"],
    };
    expect(damageLeft("electrodes changed cushion torn", understood)).toBe(true);
  });
});
