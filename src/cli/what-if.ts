import type { WhatIf } from "../book/year/what-if.ts";
import { numberOf, oneOf, type Wish } from "./arguments.ts";
import { UsageError } from "./io.ts";

const INTERVAL = /^([^=]+)=(\d+)(?:-(\d+))?$/;
const ADDED = /^([^=]+)=(\d+)(?:@(\d+(?:\.\d+)?))?$/;

/** The what-if said on the command line. */
export function whatIfOf(wish: Wish): WhatIf {
  const volume = numberOf("volume", wish.text("volume")?.replace(/ ?%$/, "") ?? null, [-99, 1000]);
  return {
    volume: (volume ?? 0) / 100,
    intervals: wish.texts("interval").map(intervalOf),
    wipes: wish.texts("wipes").map(wipesOf),
    added: wish.texts("add").map(addedOf),
    retired: wish.texts("retire").flatMap((text) => text.split(",").map((one) => one.trim())),
    wear: oneOf("wear", wish.text("wear") ?? "log", ["log", "none"] as const),
  };
}

function intervalOf(text: string): WhatIf["intervals"][number] {
  const [, part = "", shortest = "", longest = shortest] = INTERVAL.exec(text) ?? [];
  const [least, most] = [Number(shortest), Number(longest)];
  if (part === "" || !(least >= 1 && least <= most && most <= 120)) {
    throw new UsageError(
      `--interval must be PART=SHORTEST-LONGEST in months, such as SET=3-4, got "${text}"`,
    );
  }
  return { part: part.trim(), shortest: least, longest: most };
}

function wipesOf(text: string): WhatIf["wipes"][number] {
  const [first = "", second] = text.split("=");
  const [site, word] = second === undefined ? ["", first] : [first.trim(), second];
  return { site, wipes: oneOf("wipes", word.trim(), ["alcohol", "alcohol-free"] as const) };
}

function addedOf(text: string): WhatIf["added"][number] {
  const [, site = "", devices = "", uses] = ADDED.exec(text) ?? [];
  const count = Number(devices);
  if (site === "" || !(count >= 1 && count <= 10_000)) {
    throw new UsageError(
      `--add must be SITE=DEVICES or SITE=DEVICES@USES, such as S09=2@40, got "${text}"`,
    );
  }
  return { site: site.trim(), devices: count, uses: uses === undefined ? null : Number(uses) };
}
