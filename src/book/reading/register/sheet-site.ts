import { ACCEPTED, type Matcher } from "../../headings/match.ts";
import type { Site } from "../../records/records.ts";
import { siteByCode, siteKey, siteOf } from "../../records/site-names.ts";
import { type Page, textOf } from "../../workbook/cells.ts";

interface Titled {
  readonly page: Page;
  /** The first row of the headings: what stands above it is the title. */
  readonly above: number;
}

/**
 * The site of a sheet without a column for it. A name of the sheet that the Sites sheet knows goes first,
 * since a title is easily copied along; then what the title calls the site, then a known site that the
 * name or the title mentions, then the name as it is.
 */
export function siteOfSheet(
  { page, above }: Titled,
  matcher: Matcher,
  sites: readonly Site[],
): string {
  const name = page.sheet.name.trim();
  if (isKnown(sites, name)) return name;
  const title = page.sheet.values.slice(0, above).map((row) => row.map(textOf));
  return (
    labelled(title, matcher) ?? mentioned([name], sites) ?? mentioned(title.flat(), sites) ?? name
  );
}

function isKnown(sites: readonly Site[], text: string): boolean {
  return siteByCode(sites, siteOf(sites, text)) !== undefined;
}

/** Tells texts that say "site" and nothing more. */
export function siteLabels(matcher: Matcher): (text: string) => boolean {
  const field = matcher.fields.find(({ key }) => key === "site");
  return (text) =>
    field !== undefined && text !== "" && matcher.likeness(text, field, null) >= ACCEPTED;
}

/** "Site: Northfield" in one cell, or "Site" with the site in the next cell that is filled. */
function labelled(title: readonly (readonly string[])[], matcher: Matcher): string | null {
  const isLabel = siteLabels(matcher);
  for (const row of title) {
    for (const [column, text] of row.entries()) {
      const [label = "", ...rest] = text.split(":");
      const after = rest.join(":").trim();
      if (!isLabel(label.trim())) continue;
      const next = after === "" ? row.slice(column + 1).find((one) => one !== "") : after;
      if (next !== undefined && !isLabel(next)) return next;
    }
  }
  return null;
}

/** The one site of the Sites sheet that these texts mention, as a word of theirs. */
function mentioned(texts: readonly string[], sites: readonly Site[]): string | null {
  const spoken = texts.map((text) => ` ${wordsOf(text)} `);
  const found = sites.filter(({ code, name }) =>
    [code, name].some((one) => {
      const words = wordsOf(one);
      return words !== "" && spoken.some((text) => text.includes(` ${words} `));
    }),
  );
  const [one] = found;
  return found.length === 1 && one !== undefined ? one.code.trim() : null;
}

function wordsOf(text: string): string {
  return siteKey(text)
    .replaceAll(/[^\p{L}\p{N}]+/gu, " ")
    .trim();
}
