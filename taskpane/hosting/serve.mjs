// Serves the pages as a developer's Excel asks for them: https://localhost:3000, unminified, with the headers of a
// real host. They are built anew whenever pane.html is asked for: change something, then reload the pane.
import { readFileSync } from "node:fs";
import { createServer } from "node:https";
import { join } from "node:path";
import process from "node:process";
import { parseArgs } from "node:util";
import { getHttpsServerOptions } from "office-addin-dev-certs";
import { paneFiles } from "../../rolldown.pane.js";
import { DEVELOPMENT } from "./manifest.mjs";
import { DESCRIPTION, DESCRIPTION_HEADERS, HEADERS, typeOf } from "./served.mjs";

const { values } = parseArgs({
  options: {
    port: { type: "string", default: new URL(DEVELOPMENT.address).port },
    /** Folder of a certificate; without it there is one that this machine trusts. */
    certificate: { type: "string" },
  },
});

async function certificate(folder) {
  if (folder === undefined) return getHttpsServerOptions();
  const file = (name) => readFileSync(join(folder, name));
  return { ca: file("ca.crt"), cert: file("localhost.crt"), key: file("localhost.key") };
}

// Source maps lie in the scripts themselves; they are no code, so the policy of the pages lets them be.
const built = () => paneFiles(`${DEVELOPMENT.address}/`, { minify: false, sourcemap: "inline" });

let files = await built();

async function answer(request, response) {
  const path = new URL(request.url, DEVELOPMENT.address).pathname.slice(1);
  if (path === "pane.html") files = await built();
  const content = Object.hasOwn(files, path) ? files[path] : undefined;
  if (content === undefined) {
    response.writeHead(404).end();
    return;
  }
  const type = typeOf(path) ?? "text/plain";
  response.writeHead(200, {
    ...HEADERS,
    ...(path === DESCRIPTION ? DESCRIPTION_HEADERS : {}),
    "Content-Type": type === "image/png" ? type : `${type}; charset=utf-8`,
  });
  response.end(content);
}

const server = createServer(await certificate(values.certificate), (request, response) => {
  answer(request, response).catch((error) => {
    process.stderr.write(`${error.message}\n`);
    response.writeHead(500).end();
  });
});
server.listen(Number(values.port), "localhost", () => {
  process.stdout.write(`Serving the pages at https://localhost:${values.port}/\n`);
});
