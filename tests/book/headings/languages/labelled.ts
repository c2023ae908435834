/**
 * Headings under the field they mean; `foreign` ones mean none of them. Each list says where it is from.
 * Labelled by meaning, before the tables of words were read. A date of purchase, receipt or delivery of a
 * device is the day it was commissioned; one of a part (ordered, delivered, due, planned) is foreign.
 */
export type Labelled = Readonly<Record<string, readonly string[]>>;

export interface Lists {
  /** The tables may be mended by this one. */
  readonly tuning: Labelled;
  /** Only counted: nobody mends a table by a single heading of it. */
  readonly measuring: Labelled;
}
