import { spawnSync } from "node:child_process";
import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { extname, join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { isSystemError } from "./file-errors.ts";
import { UsageError } from "./io.ts";

/** Endings of workbooks that only another program can read. */
export const FOREIGN_ENDINGS = [".ods", ".xls", ".fods", ".xlsb"];

const PROGRAMS = ["soffice", "libreoffice"];
const LONGEST_WAIT = 180_000;

/** How a workbook of another form is opened by hand. */
export function saveByHand(path: string): string {
  return `open ${path} in the program it comes from and save it as an Excel workbook (.xlsx)`;
}

/**
 * A workbook of another form as an Excel workbook, made by LibreOffice in a place of its own: no window,
 * no profile and no file of the person's is touched.
 */
export function convertedByOffice(path: string): Uint8Array {
  const place = mkdtempSync(join(tmpdir(), "sparespan-convert-"));
  try {
    const made = join(place, "made");
    const profile = pathToFileURL(join(place, "profile")).href;
    const args = [
      `-env:UserInstallation=${profile}`,
      ...["--headless", "--norestore", "--nologo", "--convert-to", "xlsx:Calc MS Excel 2007 XML"],
      ...["--outdir", made, resolve(path)],
    ];
    if (!PROGRAMS.some((program) => ran(program, args))) {
      throw new UsageError(
        `${path} is a ${extname(path).toLowerCase()} workbook, which LibreOffice would convert, but it is not installed here: ${saveByHand(path)}`,
      );
    }
    const name = filesIn(made).find((file) => file.endsWith(".xlsx"));
    if (name === undefined) {
      throw new UsageError(`LibreOffice could not read ${path}: ${saveByHand(path)}`);
    }
    return readFileSync(join(made, name));
  } finally {
    rmSync(place, { recursive: true, force: true, maxRetries: 5 });
  }
}

/** Whether the program is there; what it could not do shows in the folder. */
function ran(program: string, args: readonly string[]): boolean {
  const { error } = spawnSync(program, args, { stdio: "ignore", timeout: LONGEST_WAIT });
  return !isSystemError(error, "ENOENT");
}

function filesIn(folder: string): string[] {
  try {
    return readdirSync(folder);
  } catch (error) {
    if (isSystemError(error, "ENOENT")) return [];
    throw error;
  }
}
