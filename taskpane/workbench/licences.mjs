// The licences of the packages whose code is in the page.
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";

/** The folder of the package that a file lies in; null for our own. */
const packageOf = (path) => /^.*node_modules[/\\](?:@[^/\\]+[/\\])?[^/\\]+/.exec(path)?.[0] ?? null;

/** Every package with its licence, and each text once under the names it covers. */
export function licences(files) {
  const folders = new Set(files.map(packageOf).filter((folder) => folder !== null));
  const byText = new Map();
  for (const folder of [...folders].sort()) {
    const { name, version, license } = JSON.parse(
      readFileSync(join(folder, "package.json"), "utf8"),
    );
    const file = readdirSync(folder).find((one) => /^(licen[cs]e|copying)(\.\w+)?$/i.test(one));
    const text = file === undefined ? "" : readFileSync(join(folder, file), "utf8").trim();
    const held = byText.get(text) ?? [];
    byText.set(text, [...held, `${name} ${version}${license === undefined ? "" : `, ${license}`}`]);
  }
  return [...byText].map(([text, names]) => [names.join("\n"), text].filter(Boolean).join("\n\n"));
}
