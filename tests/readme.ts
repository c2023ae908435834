// Writes the list of worksheet functions into README.md, and what Excel is told of them: npm run docs.
import { readFileSync, writeFileSync } from "node:fs";
import { markdown } from "../functions/help.ts";
import { functions } from "../functions/index.ts";
import { metadata } from "../functions/json.ts";

const START = "<!-- functions -->";
const END = "<!-- /functions -->";

const before = readFileSync("README.md", "utf8");
const [start, end] = [before.indexOf(START), before.indexOf(END)];
if (start < 0 || end < start) throw new Error(`README.md needs ${START} and ${END}`);
const list = `${START}\n\n${markdown(functions)}\n`;
writeFileSync("README.md", before.slice(0, start) + list + before.slice(end));

// The copy against which a test compares: a change of what Excel is told is then seen in the review.
const told = metadata(functions, "https://sparesheet.example/");
writeFileSync("tests/reference/functions.json", `${JSON.stringify(told, null, 2)}\n`);
