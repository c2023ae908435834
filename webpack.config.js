// Builds dist/: the pane's page, the functions on their own, their description, the icons.
// Run after `tsc -b`, which makes the module that describes the functions.
import CopyPlugin from "copy-webpack-plugin";
import HtmlPlugin from "html-webpack-plugin";
import { fileURLToPath } from "node:url";
import webpack from "webpack";
import { functions } from "./build/functions/index.js";
import { metadata } from "./build/functions/json.js";

/** Writes functions.json from the declarations, so that it cannot differ from them. */
const functionsJson = {
  apply(compiler) {
    compiler.hooks.thisCompilation.tap("functionsJson", (compilation) => {
      const stage = webpack.Compilation.PROCESS_ASSETS_STAGE_ADDITIONAL;
      compilation.hooks.processAssets.tap({ name: "functionsJson", stage }, () => {
        const text = JSON.stringify(metadata(functions), null, 2);
        compilation.emitAsset("functions.json", new webpack.sources.RawSource(text));
      });
    });
  },
};

const inside = (path) => fileURLToPath(new URL(path, import.meta.url));

export default {
  mode: "production",
  target: ["web", "es2022"],
  entry: { pane: "./taskpane/pane/pane.ts", functions: "./functions/start.ts" },
  output: { path: inside("dist"), filename: "[name].js", clean: true },
  resolve: { extensionAlias: { ".js": [".ts", ".js"] } },
  module: {
    rules: [
      {
        test: /\.ts$/,
        loader: "ts-loader",
        options: { transpileOnly: true, configFile: inside("taskpane/tsconfig.json") },
      },
    ],
  },
  plugins: [
    new HtmlPlugin({
      template: "taskpane/pane/pane.html",
      filename: "pane.html",
      chunks: ["pane"],
    }),
    new CopyPlugin({
      patterns: [
        { from: "taskpane/pane/pane.css" },
        { from: "taskpane/icons/*.{png,svg}", to: "icons/[name][ext]" },
      ],
    }),
    functionsJson,
  ],
};
