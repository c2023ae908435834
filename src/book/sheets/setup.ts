import { eachSetting } from "../records/settings.ts";
import type { Layout } from "./layout.ts";

/** The Setup sheet: one row a setting. */
export const SETUP: Layout = {
  name: "Setup",
  title: "Setup of this programme",
  table: "SpareSetup",
  room: 100,
  columns: [
    { heading: "Setting", inPlace: true, width: 26 },
    {
      heading: "Value",
      inPlace: true,
      width: 24,
      format: ([label]) => eachSetting().find(([, one]) => one.label === label)?.[1].format,
    },
    { heading: "What it means", width: 60, wraps: true },
  ],
};

/** The last row of the settings: which layout of our sheets the book has. */
export const VERSION = { label: "Sheet version", value: 1 } as const;

/** A remembered choice as its row is labelled: "column device" reads "Column device". */
export function matchLabel(key: string): string {
  return key.charAt(0).toUpperCase() + key.slice(1);
}
