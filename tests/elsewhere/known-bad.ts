/**
 * Releases of packages that must never be installed, as name, first and last version. Written down from
 * memory of public advisories, not fetched: a package that is not here may be bad all the same.
 */
type Bad = readonly [name: string, first: string, last: string];

const exactly = (text: string): Bad[] =>
  text.split(" ").map((release): Bad => {
    const at = release.lastIndexOf("@");
    const version = release.slice(at + 1);
    return [release.slice(0, at), version, version];
  });

const ANY = "999999.0.0";

/** Releases that somebody put hostile code into. */
const TAMPERED: readonly Bad[] = [
  // 2018 to 2022.
  ...exactly("event-stream@3.3.6 eslint-scope@3.7.2 eslint-config-eslint@5.0.2 faker@6.6.6"),
  ...exactly("ua-parser-js@0.7.29 ua-parser-js@0.8.0 ua-parser-js@1.0.0"),
  ...exactly("coa@2.0.3 coa@2.0.4 coa@2.1.1 coa@2.1.3 coa@3.0.1 coa@3.1.3"),
  ...exactly("rc@1.2.9 rc@1.3.9 rc@2.3.9 node-ipc@9.2.2 node-ipc@10.1.1 node-ipc@10.1.2"),
  ["flatmap-stream", "0.0.0", ANY],
  ["crossenv", "0.0.0", ANY],
  ["getcookies", "0.0.0", ANY],
  ["peacenotwar", "0.0.0", ANY],
  ["node-ipc", "11.0.0", "11.1.0"],
  ["colors", "1.4.1", "1.4.999"],
  // 2024 and the first half of 2025.
  ...exactly("@solana/web3.js@1.95.6 @solana/web3.js@1.95.7 @rspack/core@1.1.7 @rspack/cli@1.1.7"),
  ["@lottiefiles/lottie-player", "2.0.5", "2.0.7"],
  ...exactly("eslint-config-prettier@8.10.1 eslint-config-prettier@9.1.1"),
  ...exactly("eslint-config-prettier@10.1.6 eslint-config-prettier@10.1.7"),
  ...exactly("eslint-plugin-prettier@4.2.2 eslint-plugin-prettier@4.2.3 synckit@0.11.9"),
  ...exactly("@pkgr/core@0.2.8 napi-postinstall@0.3.1 got-fetch@5.1.11 got-fetch@5.1.12"),
  ...exactly("is@3.3.1 is@5.0.0"),
  // August and September 2025.
  ["nx", "20.9.0", "20.12.0"],
  ["nx", "21.5.0", "21.8.0"],
  ...exactly("chalk@5.6.1 debug@4.4.2 ansi-styles@6.2.2 strip-ansi@7.1.1 ansi-regex@6.2.1"),
  ...exactly("supports-color@10.2.1 supports-hyperlinks@4.1.1 wrap-ansi@9.0.1 slice-ansi@7.1.1"),
  ...exactly("color@5.0.1 color-convert@3.1.1 color-name@2.0.1 color-string@2.1.1"),
  ...exactly("has-ansi@6.0.1 is-arrayish@0.3.3 simple-swizzle@0.2.3 error-ex@1.3.3"),
  ...exactly("backslash@0.2.1 chalk-template@1.1.1 proto-tinker-wc@0.1.87 duckdb@1.3.3"),
  ...exactly("@ctrl/tinycolor@4.1.1 @ctrl/tinycolor@4.1.2"),
];

/** Releases with a hole that was closed in the one after. */
const HOLED: readonly Bad[] = [
  ["ansi-regex", "3.0.0", "3.0.0"],
  ["ansi-regex", "5.0.0", "5.0.0"],
  ["ansi-regex", "6.0.0", "6.0.0"],
  ["brace-expansion", "0.0.0", "1.1.11"],
  ["brace-expansion", "2.0.0", "2.0.1"],
  ["braces", "0.0.0", "3.0.2"],
  ["cross-spawn", "0.0.0", "6.0.5"],
  ["cross-spawn", "7.0.0", "7.0.4"],
  ["esbuild", "0.0.0", "0.24.2"],
  ["glob", "10.2.0", "10.4.5"],
  ["glob", "11.0.0", "11.0.3"],
  ["glob-parent", "0.0.0", "5.1.1"],
  ["js-yaml", "0.0.0", "3.14.1"],
  ["js-yaml", "4.0.0", "4.1.0"],
  ["json5", "0.0.0", "1.0.1"],
  ["json5", "2.0.0", "2.2.1"],
  ["loader-utils", "0.0.0", "1.4.1"],
  ["loader-utils", "2.0.0", "2.0.3"],
  ["loader-utils", "3.0.0", "3.2.0"],
  ["lodash", "0.0.0", "4.17.20"],
  ["micromatch", "0.0.0", "4.0.7"],
  ["minimatch", "0.0.0", "3.0.4"],
  ["minimist", "1.0.0", "1.2.5"],
  ["nanoid", "0.0.0", "3.3.7"],
  ["nth-check", "0.0.0", "2.0.0"],
  ["playwright-core", "0.0.0", "1.55.0"],
  ["postcss", "0.0.0", "8.4.30"],
  ["protobufjs", "6.10.0", "6.11.3"],
  ["protobufjs", "7.0.0", "7.2.4"],
  ["rollup", "4.0.0", "4.22.3"],
  ["semver", "7.0.0", "7.5.1"],
  ["serialize-javascript", "0.0.0", "6.0.1"],
  ["terser", "5.0.0", "5.14.1"],
  ["vite", "6.0.0", "6.2.6"],
  ["vitest", "2.0.0", "2.1.8"],
  ["vitest", "3.0.0", "3.0.4"],
  ["webpack", "5.0.0", "5.93.0"],
  ["word-wrap", "0.0.0", "1.2.3"],
  ["ws", "8.0.0", "8.17.0"],
];

/** Whether a release is known to be bad. */
export function isKnownBad(name: string, version: string): boolean {
  return [...TAMPERED, ...HOLED].some(
    ([bad, first, last]) =>
      bad === name && ordered(first, version) <= 0 && ordered(version, last) <= 0,
  );
}

/** Below zero, zero or above, as the first version is the older, the same or the newer; numbers alone count. */
function ordered(one: string, other: string): number {
  const [left, right] = [numbersOf(one), numbersOf(other)];
  const at = left.findIndex((number, place) => number !== right[place]);
  return at < 0 ? 0 : (left[at] ?? 0) - (right[at] ?? 0);
}

function numbersOf(version: string): number[] {
  const [first, second, third] = /^(\d+)\.(\d+)\.(\d+)/.exec(version)?.slice(1).map(Number) ?? [];
  if (first === undefined || second === undefined || third === undefined) {
    throw new Error(`${version} is no version`);
  }
  return [first, second, third];
}
