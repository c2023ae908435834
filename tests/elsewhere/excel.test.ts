import { type ChildProcess, execFileSync, spawn, spawnSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import process from "node:process";
import { pathToFileURL } from "node:url";
import { generateCertificates } from "office-addin-dev-certs";
import { afterAll, describe, expect, it } from "vitest";

/** npm run excel: what it serves, and what it calls; Excel itself is not here. */
const certificates = mkdtempSync(join(tmpdir(), "sparespan-excel-"));
const PORT = "31743";
let server: ChildProcess | null = null;
afterAll(() => {
  server?.kill();
  rmSync(certificates, { recursive: true, force: true });
});

/** Starts the server of the development form; done when the pages are built. */
async function served(): Promise<void> {
  const at = (name: string): string => join(certificates, name);
  await generateCertificates(at("ca.crt"), at("localhost.crt"), at("localhost.key"), 2);
  const options = ["--certificate", certificates, "--port", PORT];
  const run = spawn(process.execPath, ["taskpane/hosting/serve.mjs", ...options]);
  server = run;
  let said = "";
  await new Promise<void>((done, fail) => {
    const hear = (text: Buffer): void => {
      said += text.toString();
      if (said.includes("Serving the pages")) done();
    };
    run.stdout.on("data", hear);
    run.stderr.on("data", hear);
    run.on("exit", () => {
      fail(new Error(said));
    });
  });
}

const PROBE = `
  import { probe } from ${JSON.stringify(pathToFileURL("taskpane/hosting/probe.mjs").href)};
  const paths = ["pane.html", "pane.js", "later/functions.js", "pane.css", "functions.js", "functions.json", "help/index.html",
    "icons/mark-16.png", "privacy.html", "support.html"];
  const files = new Map(paths.map((path) => [path, null]));
  console.log(JSON.stringify(await probe("https://localhost:${PORT}", files)));`;

describe("npm run excel", () => {
  it("serves the development form over HTTPS, with what Excel on the web needs", async () => {
    await served();
    const probed = execFileSync(process.execPath, ["--input-type=module", "-e", PROBE], {
      env: { ...process.env, NODE_EXTRA_CA_CERTS: join(certificates, "ca.crt") },
      encoding: "utf8",
    });
    expect(JSON.parse(probed)).toEqual({ asked: 10, faults: [] });
  }, 120_000);

  it("calls office-addin-debugging with options that it has", async () => {
    const { debugging } = (await import(pathToFileURL("taskpane/hosting/excel.mjs").href)) as {
      readonly debugging: (...args: readonly (string | undefined)[]) => string[];
    };
    const tool = "node_modules/office-addin-debugging/cli.js";
    for (const action of ["start", "stop"]) {
      const help = execFileSync(process.execPath, [tool, action, "--help"], { encoding: "utf8" });
      for (const platform of ["win32", "darwin"]) {
        const calls = [
          debugging(action, platform, "desktop"),
          debugging(action, platform, "web", "https://host.example/book.xlsx"),
        ];
        for (const call of calls) {
          expect(call.slice(0, 2)).toEqual([action, "build/manifest-development.xml"]);
          for (const option of call.filter((word) => word.startsWith("--"))) {
            expect(help).toContain(`${option} `);
          }
        }
      }
    }
    expect(() => debugging("start", "darwin", "web")).toThrow("--document must be the address");
    expect(() => debugging("start", "darwin", "phone")).toThrow("must be desktop or web");
  });

  it("says on another machine what to do instead", ({ skip }) => {
    if (process.platform === "win32" || process.platform === "darwin") skip("Excel may be here");
    for (const action of ["start", "stop"]) {
      const done = spawnSync(process.execPath, ["taskpane/hosting/excel.mjs", action], {
        encoding: "utf8",
      });
      expect(done.status).toBe(2);
      expect(done.stderr).toMatch(
        /^Excel can be opened from Windows and Mac only: put dist\/[^\n]+\n$/,
      );
    }
  });
});
