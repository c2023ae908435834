// Makes one file of the workbench's page, and what a host needs to have it installed.
import { createHash } from "node:crypto";
import { gzipSync } from "node:zlib";

const LINKED = {
  style: '<link rel="stylesheet" href="workbench.css" />',
  script: '<script src="workbench.js"></script>',
  mark: '<link rel="icon" href="mark.svg" />',
};

const hashed = (script) => `'sha256-${createHash("sha256").update(script).digest("base64")}'`;

/** What the page may do: run these scripts, and speak to nobody. The grid sets styles while it draws. */
const policy = (scripts, more) =>
  [
    "default-src 'none'",
    `script-src ${scripts.map(hashed).join(" ")}`,
    "style-src 'unsafe-inline'",
    "img-src data: blob:",
    "base-uri 'none'",
    "form-action 'none'",
    ...more,
  ].join("; ");

/** The script packed, which makes the page half as large, and what unpacks it: a data block is nothing that runs. */
const packed = (code, unpack) =>
  `<script type="application/gzip" id="packed">${gzipSync(code, { level: 9 }).toString("base64")}</script>\n    <script>${unpack}</script>`;

/** The page with nothing beside it. `more` are lines of the policy, `head` elements of its head. */
function inOne({ html, css, code, unpack, mark }, more = [], head = "") {
  const parts = [
    [LINKED.style, `<style>\n${css}</style>`],
    [LINKED.script, packed(code, unpack)],
    [LINKED.mark, `<link rel="icon" href="data:image/svg+xml,${encodeURIComponent(mark)}" />`],
    [
      '<meta charset="utf-8" />',
      `<meta charset="utf-8" />\n    <meta http-equiv="Content-Security-Policy" content="${policy([unpack, code], more)}" />${head}`,
    ],
  ];
  return parts.reduce((page, [linked, inside]) => {
    if (page.split(linked).length !== 2) throw new Error(`workbench.html must hold ${linked} once`);
    return page.replace(linked, () => inside);
  }, html);
}

/** The page in one file, which asks for nothing at all. */
export const onePage = (parts) => inOne(parts);

const MANIFEST = {
  name: "Sparespan workbench",
  short_name: "Sparespan",
  start_url: "./",
  scope: "./",
  display: "standalone",
  background_color: "#ffffff",
  theme_color: "#ffffff",
  icons: [{ src: "mark.svg", type: "image/svg+xml", sizes: "any" }],
};

/** A folder for any static host: the page, installable, and used there without a network. */
export function hostedFiles(parts, worker) {
  const page = inOne(
    parts,
    ["worker-src 'self'", "manifest-src 'self'"],
    '\n    <link rel="manifest" href="sparespan.webmanifest" />',
  );
  const version = createHash("sha256").update(page).digest("hex").slice(0, 16);
  return {
    "index.html": page,
    "mark.svg": parts.mark,
    "sparespan.webmanifest": `${JSON.stringify(MANIFEST, null, 2)}\n`,
    "worker.js": worker.replace("VERSION", version),
  };
}
