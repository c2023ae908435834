// What a host serves, and how Excel needs it: the one list that the header files and the probe are made from.
import { readdirSync } from "node:fs";
import { join, relative, sep } from "node:path";

/** Where Excel's own script comes from; pages run no other script from outside. */
const EXCEL_SCRIPT = "https://appsforoffice.microsoft.com";

/** The policy of every page: nothing runs and nothing is loaded that is not ours or Excel's script. */
const POLICY = `default-src 'self'; script-src 'self' ${EXCEL_SCRIPT}`;

/** Excel on the web asks for this one from an address of its own. */
export const DESCRIPTION = "functions.json";

/** Headers of every file; a page is asked for anew each time, so that an update reaches everyone. */
export const HEADERS = {
  "Content-Security-Policy": POLICY,
  "X-Content-Type-Options": "nosniff",
  "Cache-Control": "no-cache",
};

/** Headers of the description of the functions besides. */
export const DESCRIPTION_HEADERS = { "Access-Control-Allow-Origin": "*" };

/** The media type of a file by its ending. */
export const TYPES = {
  css: "text/css",
  html: "text/html",
  js: "text/javascript",
  json: "application/json",
  png: "image/png",
  svg: "image/svg+xml",
};

/** The type a file must have; null for an ending that Excel never asks for. */
export function typeOf(path) {
  return TYPES[path.slice(path.lastIndexOf(".") + 1)] ?? null;
}

/** The files of a build that Excel asks for, as paths of addresses; the workbench is for people without Excel. */
export function servedFiles(folder) {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => relative(folder, join(entry.parentPath, entry.name)).split(sep).join("/"))
    .filter(
      (path) => !/^(workbench|hosted)\/|^sparespan\.html$/.test(path) && typeOf(path) !== null,
    )
    .filter((path) => path !== "staticwebapp.config.json")
    .sort();
}
