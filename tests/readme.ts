// Writes into README.md what is made from elsewhere, and what Excel is told of the functions: npm run docs.
import { readFileSync, writeFileSync } from "node:fs";
import { markdown } from "../functions/help.ts";
import { functions } from "../functions/index.ts";
import { metadata } from "../functions/json.ts";
import { figures } from "./figures.ts";
import { notTold } from "./not-told.ts";

let readme = readFileSync("README.md", "utf8");
write("functions", markdown(functions));
write("bench", figures());
write("not-told", notTold());
writeFileSync("README.md", readme);

// The copy against which a test compares: a change of what Excel is told is then seen in the review.
const told = metadata(functions, "https://sparespan.example/");
writeFileSync("tests/reference/functions.json", `${JSON.stringify(told, null, 2)}\n`);

/** Puts a text between the marks of its name. */
function write(name: string, text: string): void {
  const [open, close] = [`<!-- ${name} -->`, `<!-- /${name} -->`];
  const [start, end] = [readme.indexOf(open), readme.indexOf(close)];
  if (start < 0 || end < start) throw new Error(`README.md needs ${open} and ${close}`);
  readme = `${readme.slice(0, start)}${open}\n\n${text}\n${readme.slice(end)}`;
}
