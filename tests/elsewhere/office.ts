import { execFile, spawn, spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { promisify } from "node:util";

/** LibreOffice as the second calculator, where it and its Python bridge are installed. */
const PYTHON = "/usr/bin/python3";
const SCRIPT = resolve("tests/reference/recalculate.py");
const PORT = 20000 + (process.pid % 20000);
const MOST_OUTPUT = 1 << 29;

/** Why LibreOffice cannot be asked here, or null. */
export function officeMissing(): string | null {
  if (spawnSync("soffice", ["--version"]).status !== 0) return "LibreOffice is not installed";
  const bridge = existsSync(PYTHON) ? spawnSync(PYTHON, ["-c", "import uno"]).status : 1;
  return bridge === 0 ? null : "LibreOffice's Python bridge (python3-uno) is not installed";
}

/**
 * A workbook to recalculate: a sheet, and the row and column to sort by afterwards; through the sheet's
 * own filter where that is said.
 */
export interface Job {
  readonly path: string;
  readonly sheet: string;
  readonly sort?: { readonly firstRow: number; readonly column: number; readonly filtered?: true };
}

type Cells = (string | number)[][];

/** Every cell of each job's sheet after LibreOffice has calculated all of it, and after sorting. */
export async function recalculated(
  jobs: readonly Job[],
): Promise<{ seconds: number; plain: Cells; sorted: Cells | null }[]> {
  const home = mkdtempSync(join(tmpdir(), "sparespan-office-"));
  const office = spawn(
    "soffice",
    [
      `-env:UserInstallation=file://${home}`,
      "--headless",
      "--norestore",
      "--nologo",
      `--accept=socket,host=127.0.0.1,port=${PORT};urp`,
    ],
    { stdio: "ignore", detached: true },
  );
  try {
    const args = jobs.flatMap(({ path, sheet, sort }) => [
      path,
      sheet,
      sort === undefined
        ? "-1"
        : `${sort.filtered === true ? "f" : ""}${sort.firstRow * 1000 + sort.column}`,
    ]);
    const { stdout } = await promisify(execFile)(PYTHON, [SCRIPT, String(PORT), ...args], {
      maxBuffer: MOST_OUTPUT,
    }).catch((error: unknown) => {
      const { stderr } = error as { readonly stderr?: string };
      throw new Error(`LibreOffice did not answer: ${stderr || String(error)}`);
    });
    const lines = stdout.trim().split("\n");
    return jobs.map(({ sort }) => {
      const seconds = Number(lines.shift());
      const plain = JSON.parse(lines.shift() ?? "[]") as Cells;
      return {
        seconds,
        plain,
        sorted: sort === undefined ? null : (JSON.parse(lines.shift() ?? "[]") as Cells),
      };
    });
  } finally {
    if (office.pid !== undefined) process.kill(-office.pid, "SIGKILL");
    rmSync(home, { recursive: true, force: true, maxRetries: 5 });
  }
}
