// Builds build/command/ of what the compiler made: the command line in few files, so that it starts at once.
import { rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { rolldown } from "rolldown";
import { licences } from "./taskpane/workbench/licences.mjs";

const inside = (path) => fileURLToPath(new URL(path, import.meta.url));
const folder = inside("build/command");

const bundle = await rolldown({ input: inside("build/src/cli/main.js"), platform: "node" });
rmSync(folder, { recursive: true, force: true });
const { output } = await bundle.write({
  dir: folder,
  entryFileNames: "sparespan.js",
  chunkFileNames: "[name].js",
  minify: { mangle: false },
  comments: false,
});
await bundle.close();
const told = licences(output.flatMap(({ moduleIds = [] }) => moduleIds));
writeFileSync(join(folder, "LICENCES.txt"), told.join(`\n${"-".repeat(72)}\n\n`));
