import { keyOf } from "../workbook/cells.ts";
import { BookError } from "../workbook/errors.ts";
import { partNamed } from "../records/parts.ts";
import type { Part, Reading, Site } from "../records/records.ts";
import { bareSite } from "../sheets/sites.ts";
import { siteOf } from "../records/site-names.ts";

/** Devices taken to be added at a site. */
export interface Added {
  readonly site: string;
  readonly devices: number;
  /** Uses a device a month; null: as the Sites sheet expects, else unknown. */
  readonly uses: number | null;
}

/** Assumptions to try out; nothing of them is written into the register. */
export interface WhatIf {
  /** Share by which usage changes. */
  readonly volume: number;
  /** Other ends of a part's interval, by code or name. */
  readonly intervals: readonly {
    readonly part: string;
    readonly shortest: number;
    readonly longest: number;
  }[];
  /** Other wipes, at a site or (site "") everywhere. */
  readonly wipes: readonly { readonly site: string; readonly wipes: string }[];
  readonly added: readonly Added[];
  /** Devices taken to leave today. */
  readonly retired: readonly string[];
  /** Whether wear seen in the Job log counts. */
  readonly wear: "log" | "none";
}

export const NO_WHAT_IF: WhatIf = {
  volume: 0,
  intervals: [],
  wipes: [],
  added: [],
  retired: [],
  wear: "log",
};

/** Parts, sites and retired devices as they would be. */
export interface Supposed {
  readonly parts: readonly Part[];
  readonly sites: readonly Site[];
  /** Keys of devices taken to leave. */
  readonly retired: ReadonlySet<string>;
}

/** The programme as the what-if assumes it. Throws a BookError that names everything it cannot use. */
export function suppose(reading: Reading, whatIf: WhatIf): Supposed {
  const faults: string[] = [];
  const { ours, devices } = reading;
  const known = new Set(devices.map(({ id }) => keyOf(id)));
  for (const device of whatIf.retired) {
    if (!known.has(keyOf(device))) faults.push(`"${device}" is not in the register`);
  }
  const parts = ours.parts.map((part) => supposedPart(part, ours.parts, whatIf, faults));
  for (const { part } of whatIf.intervals) {
    if (partNamed(ours.parts, part) === null) faults.push(`"${part}" is not a part on Parts`);
  }
  const sites = new Set([
    ...ours.sites.map(({ code }) => keyOf(code)),
    ...devices.map(({ site }) => keyOf(siteOf(ours.sites, site))),
  ]);
  for (const { site } of whatIf.wipes) {
    if (site !== "" && !sites.has(keyOf(siteOf(ours.sites, site)))) {
      faults.push(`"${site}" is not a site of the programme`);
    }
  }
  if (faults.length > 0)
    throw new BookError(`The what-if cannot be worked out: ${faults.join("; ")}.`);
  return {
    parts,
    sites: supposedSites(reading, whatIf),
    retired: new Set(whatIf.retired.map(keyOf)),
  };
}

/** Other limits may shorten an interval; what Parts states is the longest there is. */
function supposedPart(
  part: Part,
  parts: readonly Part[],
  { intervals }: WhatIf,
  faults: string[],
): Part {
  const other = intervals.find((one) => partNamed(parts, one.part) === part);
  if (other === undefined) return part;
  if (part.longest !== null && other.longest > part.longest) {
    faults.push(
      `${part.name}: ${other.longest} months is longer than the ${part.longest} on Parts, which is the most allowed`,
    );
  }
  return { ...part, shortest: other.shortest, longest: other.longest };
}

function supposedSites({ ours, devices }: Reading, { wipes }: WhatIf): readonly Site[] {
  if (wipes.length === 0) return ours.sites;
  const codes = new Map(ours.sites.map((site) => [keyOf(site.code), site]));
  for (const { site } of devices) {
    const key = keyOf(siteOf(ours.sites, site));
    if (key !== "" && !codes.has(key)) codes.set(key, bareSite(site));
  }
  return [...codes.values()].map((site) => {
    // The last one said holds.
    const said = wipes
      .filter((one) => one.site === "" || siteOf(ours.sites, one.site) === site.code.trim())
      .at(-1);
    return said === undefined ? site : { ...site, wipes: said.wipes };
  });
}

/** Whether anything at all is assumed. */
export function isPlain(whatIf: WhatIf): boolean {
  return (
    whatIf.volume === 0 &&
    whatIf.wear === "log" &&
    [whatIf.intervals, whatIf.wipes, whatIf.added, whatIf.retired].every(
      (list) => list.length === 0,
    )
  );
}
