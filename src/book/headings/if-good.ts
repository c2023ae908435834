import { folded } from "../languages/words-of.ts";

/** Whether a part or a device is good, in folded words. */
const GOOD =
  /(?<!\p{L})(?:ok|okay|good|fine|intact|acceptable|usable|passed|fit for|free of|frei von|gut(?:e[mnr]?)?|in ordnung|einwandfrei|bon(?:ne)?s?|buen[oa]?s?|buon[oaie]?|boa?m?s?|goede?|in orde|bruikbaar|brauchbar|apt[oa]s?|idone[oi]|conformes?|sprawn\p{L}+|dobr\p{L}+|w porzadku)(?!\p{L})/u;

/** Whether a heading asks if something is good: below it "yes" is no finding, and "no" is one. */
export function asksIfGood(heading: string): boolean {
  return GOOD.test(folded(heading));
}
