// Writes the manifest for a real host: npm run manifest -- --url https://host/folder [--out FILE] [--dev]
import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { dirname } from "node:path";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";

const PLACEHOLDER = "https://sparespan.example";
/**
 * The development variant has its own identity, or Excel would mix the two up. The namespace is the same, for
 * the formulas we write call the functions by it: only one of the two belongs in an Excel at a time.
 */
const DEVELOPMENT = {
  id: "4c1b1d0e-6f0b-4a55-9d0e-6d5d0c0f7a31",
  name: "Sparespan (development)",
};

/** The manifest with the host's address in place of the placeholder. */
export function manifestFor(template, address, development = false) {
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
export function addressOf(text) {
  const sentence = `--url must be an https address such as https://host/folder, got "${text ?? ""}"`;
  let url;
  try {
    url = new URL(text);
  } catch {
    throw new Error(sentence);
  }
  if (url.protocol !== "https:" || url.search !== "" || url.hash !== "") throw new Error(sentence);
  return url.href.replace(/\/+$/, "");
}

function escaped(text) {
  return text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll('"', "&quot;");
}

function main() {
  const inside = (path) => fileURLToPath(new URL(`../${path}`, import.meta.url));
  const { values } = parseArgs({
    options: { url: { type: "string" }, out: { type: "string" }, dev: { type: "boolean" } },
  });
  const address = addressOf(values.url ?? (values.dev ? "https://localhost:3000" : undefined));
  const out = values.out ?? inside(`build/manifest${values.dev ? "-development" : ""}.xml`);
  mkdirSync(dirname(out), { recursive: true });
  writeFileSync(
    out,
    manifestFor(readFileSync(inside("manifest.xml"), "utf8"), address, values.dev),
  );
  process.stdout.write(`${out}\n`);
  const described = inside("dist/functions.json");
  if (!existsSync(described)) return;
  // Help addresses of the functions follow the host.
  const told = JSON.parse(readFileSync(described, "utf8"));
  for (const one of told.functions) {
    one.helpUrl = `${address}/help/${one.id.toLowerCase()}.html`;
  }
  writeFileSync(described, JSON.stringify(told, null, 2));
  process.stdout.write(`${described}: help addresses\n`);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  try {
    main();
  } catch (error) {
    process.stderr.write(`${error.message}\n`);
    process.exitCode = 2;
  }
}
