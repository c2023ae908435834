import type { WhatIf } from "../book/year/what-if.ts";
import { UsageError } from "./io.ts";
import { choice, each, type Given, numberIn, one, oneOf, under, usual } from "./option.ts";

const INTERVAL = /^([^=]+)=(\d+)(?:-(\d+))?$/;
const ADDED = /^([^=]+)=(\d+)(?:@(\d+(?:\.\d+)?))?$/;

/** What may be supposed; the same for every command that looks ahead. */
export const WHAT_IF = under("What if (none of this is written into the register):", {
  volume: usual(
    0,
    one(
      "10",
      "usage changes by this many per cent; --volume=-5 for less",
      (said, name) => numberIn(said.replace(/ ?%$/, ""), name, [-99, 1000]) / 100,
    ),
  ),
  interval: each(
    "SET=3-4",
    "another shortest and longest interval in months; never longer than Parts says",
    intervalOf,
  ),
  wipes: each(
    "S04=alcohol-free",
    "different wipes at a site, or --wipes alcohol everywhere",
    (said, name) => {
      const [first = "", second] = said.split("=");
      const [site, word] = second === undefined ? ["", first] : [first.trim(), second];
      return { site, wipes: oneOf(word.trim(), name, ["alcohol", "alcohol-free"]) };
    },
  ),
  add: each("S09=2@40", "two more devices at S09, each used 40 times a month", addedOf),
  retire: each("VR-104,VR-105", "devices that leave today", (said) =>
    said.split(",").map((device) => device.trim()),
  ),
  wear: usual("log", choice(["log", "none"], "none leaves out the wear seen in the Job log")),
});

/** The what-if said on the command line. */
export function whatIfOf(given: Given<typeof WHAT_IF>): WhatIf {
  return {
    volume: given.volume,
    intervals: given.interval,
    wipes: given.wipes,
    added: given.add,
    retired: given.retire.flat(),
    wear: given.wear,
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
