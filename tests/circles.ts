import { readdirSync, readFileSync } from "node:fs";

/** What a file imports from files beside it, types and what is loaded later included. */
const IMPORT = /(?:\bfrom|\bimport\(?)\s*"(\.[^"]+)"/g;

/** The circles of imports in some folders: one a knot of files that reach each other, in order of name. */
export function circles(root: URL, folders: readonly string[]): string[][] {
  const imports = new Map(
    folders.flatMap((folder) =>
      readdirSync(new URL(folder, root), { recursive: true, encoding: "utf8" })
        .filter((name) => /\.tsx?$/.test(name))
        .map((name) => importsOf(new URL(`${folder}${name}`, root))),
    ),
  );
  const reached = new Map([...imports.keys()].map((file) => [file, reach(file, imports)]));
  const knots = new Map<string, string[]>();
  for (const [file, ahead] of reached) {
    if (!ahead.has(file)) continue;
    const knot = [...ahead].filter((other) => reached.get(other)?.has(file)).sort();
    knots.set(knot.join("\n"), knot);
  }
  return [...knots.values()].map((knot) => knot.map((file) => file.slice(root.href.length)));
}

function importsOf(file: URL): [string, string[]] {
  const text = readFileSync(file, "utf8");
  return [file.href, [...text.matchAll(IMPORT)].map(([, path = ""]) => new URL(path, file).href)];
}

/** Every file that a file imports, and what those import. */
function reach(from: string, imports: ReadonlyMap<string, readonly string[]>): Set<string> {
  const seen = new Set<string>();
  const wanted = [...(imports.get(from) ?? [])];
  for (let file = wanted.pop(); file !== undefined; file = wanted.pop()) {
    if (seen.has(file)) continue;
    seen.add(file);
    wanted.push(...(imports.get(file) ?? []));
  }
  return seen;
}
