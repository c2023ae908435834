// Writes into README.md and docs/workbooks.md what is made from elsewhere, and what Excel is told of the functions: npm run docs.
import { readFileSync, writeFileSync } from "node:fs";
import { markdown } from "../functions/help.ts";
import { functions } from "../functions/index.ts";
import { metadata } from "../functions/json.ts";
import { figures } from "./figures.ts";
import { kindsTable } from "./kinds.ts";
import { notTold } from "./not-told.ts";

write("README.md", { functions: markdown(functions), bench: figures(), "not-told": notTold() });
write("docs/workbooks.md", { kinds: kindsTable() });

// The copy against which a test compares: a change of what Excel is told is then seen in the review.
const told = metadata(functions, "https://sparespan.example/");
writeFileSync("tests/reference/functions.json", `${JSON.stringify(told, null, 2)}\n`);

/** Puts each text between the marks of its name. */
function write(path: string, texts: Readonly<Record<string, string>>): void {
  let page = readFileSync(path, "utf8");
  for (const [name, text] of Object.entries(texts)) {
    const [open, close] = [`<!-- ${name} -->`, `<!-- /${name} -->`];
    const [start, end] = [page.indexOf(open), page.indexOf(close)];
    if (start < 0 || end < start) throw new Error(`${path} needs ${open} and ${close}`);
    page = `${page.slice(0, start)}${open}\n\n${text}\n${page.slice(end)}`;
  }
  writeFileSync(path, page);
}
