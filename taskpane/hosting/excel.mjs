// Opens Excel with the add-in in its development form, or takes it away again: npm run excel [-- web --document
// ADDRESS], npm run excel:stop [-- web].
import { spawnSync } from "node:child_process";
import process from "node:process";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";
import { DEVELOPMENT } from "./manifest.mjs";

const MANIFEST = "build/manifest-development.xml";
const SERVE = "node taskpane/hosting/serve.mjs";

/** Excel for Windows and Mac, and Excel on the web, can be opened from the machine. */
const PLATFORMS = ["win32", "darwin"];

/**
 * What office-addin-debugging is called with.
 *
 * @param action "start" or "stop".
 * @param platform The machine's, as Node names it.
 * @param where "desktop" or "web".
 * @param document Address of a workbook that Excel on the web opens.
 * @throws Error with a sentence when this machine or that call cannot open Excel.
 */
export function debugging(action, platform, where, document) {
  if (!PLATFORMS.includes(platform)) {
    throw new Error(
      "Excel can be opened from Windows and Mac only: put dist/ (npm run build) on an HTTPS host and upload " +
        'the manifest in Excel on the web, as README says under "In Excel"',
    );
  }
  if (where !== "desktop" && where !== "web") {
    throw new Error(`where Excel opens must be desktop or web, got "${where}"`);
  }
  if (action === "stop") return ["stop", MANIFEST, where];
  if (where === "web" && document === undefined) {
    throw new Error(
      "--document must be the address of a workbook that Excel on the web opens, got none",
    );
  }
  const port = new URL(DEVELOPMENT.address).port;
  return [
    ...["start", MANIFEST, where, "--app", "excel", "--no-debug"],
    ...["--dev-server", SERVE, "--dev-server-port", port],
    ...(document === undefined ? [] : ["--document", document]),
  ];
}

function main() {
  const { positionals, values } = parseArgs({
    allowPositionals: true,
    options: { document: { type: "string" } },
  });
  const [action = "start", where = "desktop"] = positionals;
  const args = debugging(action, process.platform, where, values.document);
  const root = fileURLToPath(new URL("../../", import.meta.url));
  const inherit = { cwd: root, stdio: "inherit" };
  if (action === "start") {
    spawnSync(process.execPath, ["taskpane/hosting/manifest.mjs", "--dev"], inherit);
  }
  const tool = "node_modules/office-addin-debugging/cli.js";
  process.exitCode = spawnSync(process.execPath, [tool, ...args], inherit).status ?? 2;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  try {
    main();
  } catch (error) {
    process.stderr.write(`${error.message}\n`);
    process.exitCode = 2;
  }
}
