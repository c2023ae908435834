// Writes the manifest and the header files for a real host: npm run manifest -- --url https://host/folder
// [--out FILE] [--dev]; or asks a host whether everything is there as Excel needs it: --probe https://host/folder
import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import process from "node:process";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";
import { headerFiles } from "./headers.mjs";
import { probe } from "./probe.mjs";
import { DESCRIPTION, servedFiles } from "./served.mjs";

const PLACEHOLDER = "https://sparespan.example";
/**
 * The development variant has its own identity, or Excel would mix the two up. The namespace is the same, for
 * the formulas we write call the functions by it: only one of the two belongs in an Excel at a time.
 */
export const DEVELOPMENT = {
  address: "https://localhost:3000",
  id: "4c1b1d0e-6f0b-4a55-9d0e-6d5d0c0f7a31",
  name: "Sparespan (development)",
};

/** The manifest with the host's address in place of the placeholder. */
function manifestFor(template, address, development = false) {
  const placed = template.replaceAll(PLACEHOLDER, escaped(address)).replace(
    // An application domain is a host, never a folder.
    /<AppDomain>[^<]*<\/AppDomain>/,
    `<AppDomain>${escaped(new URL(address).origin)}</AppDomain>`,
  );
  if (!development) return placed;
  return placed
    .replace(/<Id>[^<]*<\/Id>/, `<Id>${DEVELOPMENT.id}</Id>`)
    .replace(/(<DisplayName DefaultValue=")[^"]*/, `$1${DEVELOPMENT.name}`);
}

/** The address without a slash at its end; refused when it is none that Office takes. */
function addressOf(option, text) {
  const sentence = `--${option} must be an https address such as https://host/folder, got "${text ?? ""}"`;
  let url;
  try {
    url = new URL(text);
  } catch {
    throw new Error(sentence);
  }
  const isSafe = url.protocol === "https:" || (option === "probe" && url.hostname === "localhost");
  if (!isSafe || url.search !== "" || url.hash !== "") throw new Error(sentence);
  return url.href.replace(/\/+$/, "");
}

function escaped(text) {
  return text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll('"', "&quot;");
}

const inside = (path) => fileURLToPath(new URL(`../../${path}`, import.meta.url));
const say = (text) => process.stdout.write(`${text}\n`);

/** The build carries the host's address in the help of its functions, and the headers the host must send. */
function placeBuild(address, dist) {
  if (!existsSync(join(dist, DESCRIPTION))) return;
  const described = join(dist, DESCRIPTION);
  const told = JSON.parse(readFileSync(described, "utf8"));
  for (const one of told.functions) {
    one.helpUrl = `${address}/help/${one.id.toLowerCase()}.html`;
  }
  writeFileSync(described, JSON.stringify(told, null, 2));
  say(`${described}: help addresses`);
  for (const [name, text] of Object.entries(headerFiles(address))) {
    writeFileSync(join(dist, name), text);
    say(`${join(dist, name)}: headers for a host that reads this file`);
  }
}

async function ask(address, dist) {
  if (!existsSync(join(dist, DESCRIPTION))) {
    throw new Error(`There is no build in ${dist}: run npm run build first`);
  }
  const files = servedFiles(dist).map((path) => [path, readFileSync(join(dist, path))]);
  const { asked, faults } = await probe(address, new Map(files));
  for (const fault of faults) say(fault);
  const all = `${asked} files of ${address} asked for`;
  say(
    faults.length === 0 ? `${all}: all as Excel needs them.` : `${all}: ${faults.length} faults.`,
  );
  process.exitCode = faults.length === 0 ? 0 : 1;
}

async function main() {
  const { values } = parseArgs({
    options: {
      url: { type: "string" },
      out: { type: "string" },
      dev: { type: "boolean" },
      probe: { type: "string" },
      build: { type: "string" },
    },
  });
  const dist = values.build ?? inside("dist");
  if (values.probe !== undefined) {
    await ask(addressOf("probe", values.probe), dist);
    return;
  }
  const address = addressOf("url", values.url ?? (values.dev ? DEVELOPMENT.address : undefined));
  const out = values.out ?? inside(`build/manifest${values.dev ? "-development" : ""}.xml`);
  mkdirSync(dirname(out), { recursive: true });
  writeFileSync(
    out,
    manifestFor(readFileSync(inside("manifest.xml"), "utf8"), address, values.dev),
  );
  say(out);
  placeBuild(address, dist);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  try {
    await main();
  } catch (error) {
    process.stderr.write(`${error.message}\n`);
    process.exitCode = 2;
  }
}
