// The whole suite in UTC, then all that runs inside Node again in zones where days go wrong.
// What other programs do (LibreOffice) does not depend on our time zone and runs once.
import { spawnSync } from "node:child_process";
import process from "node:process";
import { fileURLToPath } from "node:url";

const vitest = fileURLToPath(new URL("../node_modules/vitest/vitest.mjs", import.meta.url));
const zones = ["UTC", "Europe/Berlin", "America/Los_Angeles", "Pacific/Apia"];

for (const zone of zones) {
  const once = zone === "UTC" ? [] : ["--exclude", "tests/{elsewhere,browser}/**"];
  const report = `build/report/${zone.replace("/", "-")}.json`;
  process.stdout.write(
    `\nTests in ${zone}${once.length > 0 ? ", without those of other programs" : ""}\n`,
  );
  const args = ["run", "--config", "tests/vitest.config.ts", ...once];
  const done = spawnSync(process.execPath, [vitest, ...args], {
    stdio: "inherit",
    env: { ...process.env, TZ: zone, REPORT: report },
  });
  if (done.status !== 0) process.exit(1);
}
