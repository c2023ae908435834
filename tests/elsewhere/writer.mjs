// Adds an entry to a file as a command does to a workbook: reads it, thinks, writes it in place.
import process from "node:process";
import { readFile, writeFile } from "../../build/src/cli/files.js";

const [path = "", entry = ""] = process.argv.slice(2);
const read = readFile(path);
const bytes = Buffer.concat([read, Buffer.from(`${entry}\n`)]);
try {
  const inPlace = { read, command: "log", today: 20_000 };
  writeFile(bytes, { path, ending: ".xlsx", force: false, inPlace });
} catch (error) {
  process.stderr.write(error.message);
  process.exitCode = 2;
}
