import { type Definition, NAMESPACE } from "./define.ts";
import { answerText, formulaText, RANGES, signature, takesRanges } from "./help.ts";

/** Address of a function's help page below a folder that ends in a slash. */
export function pagePath({ id }: Definition): string {
  return `help/${id.toLowerCase()}.html`;
}

/** The help page of a function: plain HTML, nothing that runs, nothing loaded from elsewhere. */
export function helpPage(definition: Definition): string {
  const { id, about, args, gives, see, examples } = definition;
  const taken = args.map(
    ({ name, about: said, optional }) =>
      `<dt><code>${escaped(name)}</code>${optional ? " (may be left out)" : ""}</dt><dd>${escaped(said)}</dd>`,
  );
  const columns = gives.kind === "rows" ? gives.columns.map(({ name }) => name).join(", ") : "";
  const shown = examples.map(
    (example) =>
      `<li><code>${escaped(formulaText(definition, example))}</code> gives ${escaped(answerText(definition, example))}</li>`,
  );
  return page(`${NAMESPACE}.${id}`, [
    `<p><code>${escaped(signature(definition))}</code></p>`,
    `<p>${escaped(about)}</p>`,
    `<h2>Arguments</h2><dl>${taken.join("")}</dl>`,
    ...(takesRanges(definition) ? [`<p>${escaped(RANGES)}</p>`] : []),
    `<h2>Gives</h2><p>${escaped(gives.about)}${columns === "" ? "" : ` Columns: ${escaped(columns)}.`}</p>`,
    `<h2>Examples</h2><ul>${shown.join("")}</ul>`,
    `<h2>Source</h2><p>${escaped(see)}</p>`,
    '<p><a href="index.html">All functions</a></p>',
  ]);
}

/** The page that lists all help pages. */
export function helpIndex(functions: readonly Definition[]): string {
  const entries = functions.map(
    (one) =>
      `<dt><a href="${one.id.toLowerCase()}.html"><code>${escaped(signature(one))}</code></a></dt><dd>${escaped(one.about)}</dd>`,
  );
  return page("Worksheet functions", [
    `<dl>${entries.join("")}</dl>`,
    '<p><a href="../support.html">Support</a> · <a href="../privacy.html">Privacy</a></p>',
  ]);
}

function page(title: string, parts: readonly string[]): string {
  return [
    "<!doctype html>",
    '<html lang="en">',
    "<head>",
    '<meta charset="utf-8" />',
    `<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'self'" />`,
    '<meta name="viewport" content="width=device-width, initial-scale=1" />',
    `<title>${escaped(title)}</title>`,
    '<link rel="stylesheet" href="../pane.css" />',
    "</head>",
    `<body><main><h1>${escaped(title)}</h1>${parts.join("\n")}</main></body>`,
    "</html>",
    "",
  ].join("\n");
}

function escaped(text: string): string {
  return text
    .replaceAll("&", "&amp;")
    .replaceAll("<", "&lt;")
    .replaceAll(">", "&gt;")
    .replaceAll('"', "&quot;");
}
