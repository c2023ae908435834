import { spawn, spawnSync } from "node:child_process";
import { existsSync, readdirSync, statSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { type Io, UsageError } from "./io.ts";

const ROOT = rootAbove(dirname(fileURLToPath(import.meta.url)));
const SOURCES = ["functions", "src/book", "src/core", "src/xlsx", "taskpane"];

/**
 * The folder of the built page; it is built first where it is missing or older than its sources. Null
 * where there is neither the page nor what builds it, as in a package installed for its commands.
 */
export function pageFolder(io: Pick<Io, "err">): string | null {
  const folder = join(ROOT, "dist", "workbench");
  const index = join(folder, "index.html");
  const builder = join(ROOT, "rolldown.workbench.js");
  const built = existsSync(index) ? statSync(index).mtimeMs : 0;
  if (built > 0 && (!existsSync(builder) || built >= newest())) return folder;
  if (!existsSync(builder)) return null;
  io.err("Building the workbench's page (once, some seconds) …\n");
  const done = spawnSync(process.execPath, [builder], {
    cwd: ROOT,
    encoding: "utf8",
  });
  if (done.status !== 0 || !existsSync(index)) {
    io.err(done.stdout);
    throw new UsageError("the page of the workbench could not be built");
  }
  return folder;
}

/** The folder of the project; this file lies deeper in it once it is built. */
function rootAbove(folder: string): string {
  const above = dirname(folder);
  return existsSync(join(folder, "package.json")) || above === folder ? folder : rootAbove(above);
}

/** When the last of the page's sources was changed. */
function newest(): number {
  const times = SOURCES.flatMap((source) => {
    const folder = join(ROOT, source);
    if (!existsSync(folder)) return [];
    const names = readdirSync(folder, { recursive: true, encoding: "utf8" });
    return names
      .filter((name) => /\.(ts|tsx|css|html|m?js)$/.test(name))
      .map((name) => statSync(join(folder, name)).mtimeMs);
  });
  return Math.max(0, ...times);
}

const OPENERS: Readonly<Record<string, readonly [string, ...string[]]>> = {
  darwin: ["open"],
  win32: ["cmd", "/c", "start", ""],
};

/** Opens an address in the browser where that can be done; the address is printed anyway. */
export function openInBrowser(address: string): void {
  const [command, ...before] = OPENERS[process.platform] ?? ["xdg-open"];
  const child = spawn(command, [...before, address], { detached: true, stdio: "ignore" });
  child.on("error", () => undefined);
  child.unref();
}
