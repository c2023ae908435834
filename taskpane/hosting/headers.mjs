// Header files for hosts of static files, written beside what they serve.
import { DESCRIPTION, DESCRIPTION_HEADERS, HEADERS, TYPES } from "./served.mjs";

/** A file named _headers, which several hosts of static pages read at their root: a path, then its headers. */
function underscored(folder) {
  const lines = (headers) => Object.entries(headers).map(([name, value]) => `  ${name}: ${value}`);
  return [
    `${folder}/*`,
    ...lines(HEADERS),
    `${folder}/${DESCRIPTION}`,
    ...lines({ "Content-Type": TYPES.json, ...DESCRIPTION_HEADERS }),
    "",
  ].join("\n");
}

/** staticwebapp.config.json, read by Azure Static Web Apps at the root. */
function azure(folder) {
  return `${JSON.stringify(
    {
      globalHeaders: HEADERS,
      mimeTypes: Object.fromEntries(Object.entries(TYPES).map(([end, type]) => [`.${end}`, type])),
      routes: [
        {
          route: `${folder}/${DESCRIPTION}`,
          headers: { "Content-Type": TYPES.json, ...DESCRIPTION_HEADERS },
        },
      ],
    },
    null,
    2,
  )}\n`;
}

/** web.config, read by Internet Information Services, the web server of Windows, in the folder itself. */
function windows() {
  const headers = (of) =>
    Object.entries(of).map(([name, value]) => `<add name="${name}" value="${value}" />`);
  return [
    '<?xml version="1.0" encoding="UTF-8"?>',
    "<configuration>",
    "  <system.webServer>",
    "    <staticContent>",
    '      <remove fileExtension=".json" />',
    `      <mimeMap fileExtension=".json" mimeType="${TYPES.json}" />`,
    "    </staticContent>",
    "    <httpProtocol>",
    "      <customHeaders>",
    ...headers(HEADERS).map((line) => `        ${line}`),
    "      </customHeaders>",
    "    </httpProtocol>",
    "  </system.webServer>",
    `  <location path="${DESCRIPTION}">`,
    "    <system.webServer>",
    "      <httpProtocol>",
    "        <customHeaders>",
    ...headers(DESCRIPTION_HEADERS).map((line) => `          ${line}`),
    "        </customHeaders>",
    "      </httpProtocol>",
    "    </system.webServer>",
    "  </location>",
    "</configuration>",
    "",
  ].join("\n");
}

/**
 * The header files, by their name.
 *
 * @param address Where the files will be, without a slash at the end.
 */
export function headerFiles(address) {
  const folder = new URL(address).pathname.replace(/\/$/, "");
  return {
    _headers: underscored(folder),
    "staticwebapp.config.json": azure(folder),
    "web.config": windows(),
  };
}
