// Builds dist/workbench/, the page with the grid as npm start serves it, and of the same files the page that
// needs no server: dist/sparespan.html, and dist/hosted/ with what makes it installable.
import { Buffer } from "node:buffer";
import { writeFileSync } from "node:fs";
import process from "node:process";
import texts from "@univerjs/sheets-formula/locale/en-US";
import { inside, scriptsOf, text, whole, writeFolder } from "./rolldown.shared.js";
import {
  FUNCTION_LIST,
  HYPHENS,
  leftOut,
  withoutPictures,
  withTexts,
} from "./taskpane/workbench/grid/left-out.mjs";
import { licences } from "./taskpane/workbench/licences.mjs";
import { hostedFiles, onePage } from "./taskpane/workbench/one-page.mjs";

const gridTexts = {
  name: "texts and pictures of the grid",
  load: (id) => (HYPHENS.test(id) ? "export default {};" : null),
  transform: (code, id) =>
    FUNCTION_LIST.test(id) ? withTexts(code, texts) : withoutPictures(code),
};

/** The page's script, and the files it was made of. */
async function script() {
  const [{ code, moduleIds }] = await scriptsOf("taskpane/workbench/workbench.ts", {
    tsconfig: "taskpane/workbench/tsconfig.json",
    standingIn: leftOut,
    plugins: [gridTexts],
    ...whole,
  });
  return { code, moduleIds };
}

/** The pane's rules, kept away from the grid and what it opens beside itself. */
const scoped = (css) =>
  `@scope (body) to (#grid, [data-u-comp]) {\n${css.replace(/(?<![\w-]):root|^body(?= \{)/gm, ":scope")}\n}\n`;

const GRID_STYLES =
  "design ui docs-ui sheets-ui sheets-formula-ui sheets-numfmt-ui sheets-conditional-formatting-ui sheets-data-validation-ui";

/** Styles without notes and indents. */
const bare = (css) =>
  css
    .replace(/\/\*[^]*?\*\//g, "")
    .replace(/\n\s*/g, "\n")
    .replace(/\s*([{;,])\n/g, "$1");

function styles() {
  return bare(
    [
      ...GRID_STYLES.split(" ").map((part) => text(`node_modules/@univerjs/${part}/lib/index.css`)),
      scoped(text("taskpane/pane/pane.css")),
      text("taskpane/workbench/workbench.css"),
    ].join("\n"),
  );
}

const escaped = (told) => told.replaceAll("&", "&amp;").replaceAll("<", "&lt;");

const { code, moduleIds } = await script();
const told = [text("LICENSE"), ...licences(moduleIds)].join(`\n${"-".repeat(72)}\n\n`);
const parts = {
  html: text("taskpane/workbench/workbench.html").replace("LICENCES", () => escaped(told)),
  css: styles(),
  code,
  unpack: text("taskpane/workbench/unpack.js"),
  mark: text("taskpane/icons/mark.svg"),
};
writeFolder(inside("dist/workbench"), {
  "index.html": parts.html,
  "workbench.css": parts.css,
  "workbench.js": parts.code,
  "mark.svg": parts.mark,
});
writeFolder(inside("dist/hosted"), hostedFiles(parts, text("taskpane/workbench/worker.js")));
const page = onePage(parts);
writeFileSync(inside("dist/sparespan.html"), page);
const size = (Buffer.byteLength(page) / 1e6).toFixed(1);
process.stdout.write(`dist/sparespan.html: ${size} MB, the workbench in one file\n`);
