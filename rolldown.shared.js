// How our TypeScript becomes what a browser runs, the same for every page.
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { rolldown } from "rolldown";
import { native } from "./taskpane/native.mjs";

export const inside = (path) => fileURLToPath(new URL(path, import.meta.url));
export const text = (path) => readFileSync(inside(path), "utf8");

const standIns = (others) => {
  const modules = Object.entries(native).map(([name, put]) => [name, `module.exports = ${put};`]);
  const standing = { ...Object.fromEntries(modules), ...others };
  return {
    name: "stand-ins",
    resolveId: (name) => (name in standing ? `\0${name}` : null),
    load: (id) => (id.startsWith("\0") ? (standing[id.slice(1)] ?? null) : null),
  };
};

/**
 * The scripts that are made of one file of ours, the first one its own; each with its name, its code and the
 * modules it was made of. `standingIn` are modules that others take the place of, by name.
 */
export async function scriptsOf(entry, { standingIn = {}, plugins = [], tsconfig, ...output }) {
  const bundle = await rolldown({
    input: inside(entry),
    platform: "browser",
    tsconfig: inside(tsconfig),
    resolve: { extensionAlias: { ".js": [".ts", ".tsx", ".js"] } },
    transform: { target: "es2022", define: { "process.env.NODE_ENV": '"production"' } },
    plugins: [standIns(standingIn), ...plugins],
    // Directives of packages that tell other tools something.
    checks: { moduleLevelDirective: false },
  });
  const made = await bundle.generate({
    entryFileNames: "[name].js",
    chunkFileNames: "later/[name].js",
    minify: true,
    comments: false,
    ...output,
  });
  await bundle.close();
  return made.output;
}

/** What makes one script of all, for a page that cannot fetch the parts of it. */
export const whole = { format: "iife", codeSplitting: false };

/** Writes files into a folder that then holds no others but those that are to be left. */
export function writeFolder(folder, files, left = []) {
  for (const name of existsSync(folder) ? readdirSync(folder) : []) {
    if (!left.includes(name)) rmSync(join(folder, name), { recursive: true, force: true });
  }
  for (const [name, content] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, name)), { recursive: true });
    writeFileSync(join(folder, name), content);
  }
}
