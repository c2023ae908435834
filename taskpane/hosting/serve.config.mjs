// The pages as a developer's Excel asks for them: https://localhost:3000, unminified, with the headers of a real host.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { getHttpsServerOptions } from "office-addin-dev-certs";
import { pages } from "../../webpack.config.js";
import { DEVELOPMENT } from "./manifest.mjs";
import { DESCRIPTION_HEADERS, HEADERS } from "./served.mjs";

/** A certificate that this machine trusts; with --env certificate=FOLDER the one in there. */
async function certificate(folder) {
  if (folder === undefined) return getHttpsServerOptions();
  const file = (name) => readFileSync(join(folder, name));
  return { ca: file("ca.crt"), cert: file("localhost.crt"), key: file("localhost.key") };
}

export default async ({ certificate: folder, port } = {}) => ({
  ...pages(`${DEVELOPMENT.address}/`),
  mode: "development",
  // Source maps that are files: the policy of the pages lets no text run as code.
  devtool: "source-map",
  devServer: {
    server: { type: "https", options: await certificate(folder) },
    host: "localhost",
    port: Number(port ?? new URL(DEVELOPMENT.address).port),
    headers: { ...HEADERS, ...DESCRIPTION_HEADERS },
    // The pages are reloaded by hand: what a server adds to them to do so would be barred by their policy.
    ...{ hot: false, liveReload: false, client: false, static: false },
  },
});
