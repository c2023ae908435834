import { chance } from "../../src/book/demo/chance.ts";
import type { Job } from "../../src/book/records/records.ts";
import { type Day, daysInMonth, isoText, addMonths, monthStart } from "../../src/core/day.ts";
import { JULY, siteWith, small, type Small } from "./programme.ts";
import { jobOf, on } from "./scene.ts";

/** How parts of a drawn programme wear: the months after which 63.2% have, by use and wipes, and the shape. */
export interface Truth {
  readonly shape: number;
  readonly scale: (uses: number, alcohol: boolean) => number;
}

const DEVICES = 40;
const MONTHS = 36;
/** Cushions are replaced so many days after the last at the latest. */
const INTERVAL = 190;

/**
 * A programme of 40 devices at two sites, one with wipes without alcohol, used 8 to 90 times a month, whose cushions
 * have been logged for three years: those that wore out before their time with a finding.
 */
export function wornProgramme(seed: number, { shape, scale }: Truth): Small {
  const random = chance(seed);
  const jobs: Job[] = [];
  const devices = Array.from({ length: DEVICES }, (_, at) => {
    const [id, alcohol] = [`A-${at}`, at % 2 === 0];
    const uses = Math.round(8 * (90 / 8) ** random.share());
    const life = (): number =>
      scale(uses, alcohol) * (-Math.log(1 - random.share())) ** (1 / shape) * 30.436875;
    let last = (addMonths(monthStart(JULY), -MONTHS) + random.below(150)) as Day;
    jobs.push(jobOf(id, "CUSHION", isoText(last)));
    for (;;) {
      const days = Math.max(1, Math.round(life()));
      const next = (last + Math.min(days, INTERVAL)) as Day;
      if (next > JULY) break;
      jobs.push(jobOf(id, "CUSHION", isoText(next), days < INTERVAL ? { finding: "crack" } : {}));
      last = next;
    }
    const counts = Array.from({ length: MONTHS }, (_one, month) => {
      const [year = 0, of = 1] = isoText(addMonths(monthStart(JULY), month - MONTHS))
        .split("-")
        .map(Number);
      return Math.round((uses * daysInMonth(year, of)) / 30.436875);
    });
    return { id, site: alcohol ? "S01" : "S02", cushion: on(isoText(last)), counts };
  });
  return small(devices, {
    ours: { jobs },
    sites: [siteWith("S01", { wipes: "alcohol" }), siteWith("S02")],
  });
}
