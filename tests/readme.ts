// Writes the list of worksheet functions into README.md: npm run docs.
import { readFileSync, writeFileSync } from "node:fs";
import { markdown } from "../functions/help.ts";
import { functions } from "../functions/index.ts";

const START = "<!-- functions -->";
const END = "<!-- /functions -->";

const before = readFileSync("README.md", "utf8");
const [start, end] = [before.indexOf(START), before.indexOf(END)];
if (start < 0 || end < start) throw new Error(`README.md needs ${START} and ${END}`);
const list = `${START}\n\n${markdown(functions)}\n`;
writeFileSync("README.md", before.slice(0, start) + list + before.slice(end));
