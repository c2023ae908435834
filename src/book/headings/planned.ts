import { folded } from "../languages/words-of.ts";

/** "Change electrodes on": what somebody is to do, where "Electrode change" is what was done. */
const ORDERED = /^(?:change|replace|renew|swap|exchange)\s+(?!(?:of|date|dates|log)\b)\p{L}/u;
/** "To be changed", "à changer", "zu wechseln": what is still to come. */
const TO_COME =
  /\bto\s+(?:be|change|replace|renew)\b|\b(?:required|needed|reminder|requested|(?:change|replace|renew|swap|exchange)\s+on$)|(?<!\p{L})(?:a\s+(?:changer|remplacer)|zu\s+(?:wechseln|tauschen|ersetzen)|te\s+vervangen|por\s+cambiar|a\s+trocar|da\s+(?:cambiare|sostituire)|do\s+wymiany)(?!\p{L})/u;
/** A heading that ends so gives the last day: "replace by", "vervangen voor", "wymiana do". */
const UNTIL =
  /(?<!\p{L})(?:by|until|till|before|bis|vor|avant|antes|hasta|ate|entro|voor|do)[\s:.]*$/u;

/** "Previous", "vorletzter", "précédent": what was before the last time. */
const EARLIER =
  /\b(?:previous|prior|earlier|former|old|penult|vorherig|vorig|vorletzt|fruher|preced|avant-dern|ancien|anterior|previo|eerder|poprzedn|wczesniej)/u;

/** Whether a heading speaks of the time before the last. */
export function saysEarlier(heading: string): boolean {
  return EARLIER.test(folded(heading));
}

/** Whether a heading says when something is to be done, by the order of its words, which the matcher does not see. */
export function saysPlanned(heading: string): boolean {
  const text = folded(heading.replace(/[([].*?[)\]]/g, " ")).trim();
  return ORDERED.test(text) || TO_COME.test(text) || UNTIL.test(text);
}
