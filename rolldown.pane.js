// Builds dist/: the pane's page, the functions on their own, their description and help, the icons.
// Run after `tsc -b`, which makes the module that describes the functions.
import { readdirSync, readFileSync } from "node:fs";
import process from "node:process";
import { fileURLToPath } from "node:url";
import { minify } from "terser";
import { inside, scriptsOf, text, whole, writeFolder } from "./rolldown.shared.js";
import { licences } from "./taskpane/workbench/licences.mjs";

/** What else lies in dist/: rolldown.workbench.js makes it. */
const WORKBENCH = ["workbench", "hosted", "sparespan.html"];

const SETTINGS = { tsconfig: "taskpane/tsconfig.json" };

/** All that the pane needs at once in one script. */
const AT_ONCE = { groups: [{ name: "pane", tags: ["$initial"] }] };

/** The scripts of the pane: its own, and those that it fetches once it is there. */
export async function paneScripts(output = {}) {
  const settings = { ...SETTINGS, format: "es", codeSplitting: AT_ONCE };
  const scripts = await scriptsOf("taskpane/pane/pane.ts", { ...settings, ...output });
  return output.minify === false ? scripts : await Promise.all(scripts.map(smaller));
}

/** The bundler leaves a hundredth that a minifier finds: what the pane begins with is counted byte by byte. */
async function smaller(script) {
  if (script.code === undefined) return script;
  const { code } = await minify(script.code, { module: true, ecma: 2022, compress: { passes: 3 } });
  const { fileName, moduleIds } = script;
  return { fileName, moduleIds, code };
}

/** The files of a folder by the names they are served under. */
function copies(folder, pattern, under = "") {
  const names = readdirSync(inside(folder)).filter((name) => pattern.test(name));
  return names.map((name) => [`${under}${name}`, readFileSync(inside(`${folder}/${name}`))]);
}

/** Styles without what only people read. */
export function compact(styles) {
  const bare = styles.replaceAll(/\/\*[\s\S]*?\*\//g, "").replaceAll(/\s+/g, " ");
  return bare.replaceAll(/ ?([{};,]) ?/g, "$1");
}

/** What is written from the declarations of the functions, so that it cannot differ from them. */
async function declared(address) {
  const { functions } = await import("./build/functions/index.js");
  const { metadata } = await import("./build/functions/json.js");
  const { helpIndex, helpPage, pagePath } = await import("./build/functions/page.js");
  return {
    "functions.json": JSON.stringify(metadata(functions, address), null, 2),
    "help/index.html": helpIndex(functions),
    ...Object.fromEntries(functions.map((one) => [pagePath(one), helpPage(one)])),
  };
}

/** Every file of the pages as they are served from an address that ends in a slash, by its path. */
export async function paneFiles(address, output = {}) {
  const [alone] = await scriptsOf("functions/start.ts", { ...SETTINGS, ...whole, ...output });
  const scripts = await paneScripts(output);
  const modules = [alone, ...scripts].flatMap(({ moduleIds = [] }) => moduleIds);
  return {
    ...Object.fromEntries(scripts.map((one) => [one.fileName, one.code ?? one.source])),
    "functions.js": alone.code,
    "pane.html": text("taskpane/pane/pane.html"),
    "pane.css": compact(text("taskpane/pane/pane.css")),
    "licences.txt": licences(modules).join(`\n${"-".repeat(72)}\n\n`),
    ...Object.fromEntries(copies("taskpane/pages", /\.html$/)),
    ...Object.fromEntries(copies("taskpane/icons", /\.(?:png|svg)$/, "icons/")),
    ...(await declared(address)),
  };
}

/** Where the manifest says the pages are served from. */
function placeholder() {
  const [, address] = /SourceLocation DefaultValue="(https:\/\/[^"]*\/)pane\.html"/.exec(
    text("manifest.xml"),
  ) ?? [null, ""];
  return address;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  writeFolder(inside("dist"), await paneFiles(placeholder()), WORKBENCH);
}
