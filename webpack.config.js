// Builds dist/: the pane's page, the functions on their own, their description, the icons.
// Run after `tsc -b`, which makes the module that describes the functions.
import CopyPlugin from "copy-webpack-plugin";
import HtmlPlugin from "html-webpack-plugin";
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import webpack from "webpack";
import { functions } from "./build/functions/index.js";
import { metadata } from "./build/functions/json.js";
import { helpIndex, helpPage, pagePath } from "./build/functions/page.js";
import { native } from "./taskpane/native.mjs";

const inside = (path) => fileURLToPath(new URL(path, import.meta.url));

/** Where the manifest says the pages are served from. */
const [, placeholder = ""] =
  /SourceLocation DefaultValue="(https:\/\/[^"]*\/)pane\.html"/.exec(
    readFileSync(inside("manifest.xml"), "utf8"),
  ) ?? [];

/** What is written from the declarations, so that it cannot differ from them. */
const declarations = (address) => ({
  apply(compiler) {
    const declared = [
      ["functions.json", JSON.stringify(metadata(functions, address), null, 2)],
      ["help/index.html", helpIndex(functions)],
      ...functions.map((one) => [pagePath(one), helpPage(one)]),
    ];
    compiler.hooks.thisCompilation.tap("declarations", (compilation) => {
      const stage = webpack.Compilation.PROCESS_ASSETS_STAGE_ADDITIONAL;
      compilation.hooks.processAssets.tap({ name: "declarations", stage }, () => {
        for (const [path, text] of declared) {
          compilation.emitAsset(path, new webpack.sources.RawSource(text));
        }
      });
    });
  },
});

/** How TypeScript becomes what a browser runs; the pages of the tests are made the same way. */
export const modules = {
  externals: Object.fromEntries(
    Object.entries(native).map(([name, expression]) => [name, `var ${expression}`]),
  ),
  resolve: { extensionAlias: { ".js": [".ts", ".tsx", ".js"] } },
  module: {
    rules: [
      {
        test: /\.tsx?$/,
        loader: "ts-loader",
        options: { transpileOnly: true, configFile: inside("taskpane/tsconfig.json") },
      },
    ],
  },
};

/** The pages as they are served from an address that ends in a slash. */
export const pages = (address) => ({
  mode: "production",
  target: ["web", "es2022"],
  entry: { pane: "./taskpane/pane/pane.ts", functions: "./functions/start.ts" },
  output: {
    path: inside("dist"),
    filename: "[name].js",
    clean: { keep: /^(workbench|hosted)\/|^sparespan\.html$/ },
  },
  performance: { maxAssetSize: 400_000, maxEntrypointSize: 400_000 },
  ...modules,
  plugins: [
    new HtmlPlugin({
      template: "taskpane/pane/pane.html",
      filename: "pane.html",
      chunks: ["pane"],
    }),
    new CopyPlugin({
      patterns: [
        { from: "taskpane/pane/pane.css" },
        { from: "taskpane/pages/*.html", to: "[name][ext]" },
        { from: "taskpane/icons/*.{png,svg}", to: "icons/[name][ext]" },
      ],
    }),
    declarations(address),
  ],
});

export default pages(placeholder);
