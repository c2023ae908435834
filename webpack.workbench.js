// Builds dist/workbench/: the page with the grid, beside what webpack.config.js builds.
import CopyPlugin from "copy-webpack-plugin";
import HtmlPlugin from "html-webpack-plugin";
import { fileURLToPath } from "node:url";
import { modules } from "./webpack.config.js";

const inside = (path) => fileURLToPath(new URL(path, import.meta.url));

/** The pane's rules, kept away from the grid's buttons. */
const scoped = (css) =>
  `@scope (#pane) {\n${css.toString().replace(/^(:root|body)(?= \{)/gm, ":scope")}\n}\n`;

const grid = "node_modules/@univerjs";

export default {
  mode: "production",
  target: ["web", "es2022"],
  entry: { workbench: "./taskpane/workbench/workbench.ts" },
  output: { path: inside("dist/workbench"), filename: "[name].js", clean: true },
  performance: { hints: false },
  // The page is served to the machine it was built on: its size costs nothing there, making it smaller a minute.
  optimization: { minimize: false },
  externals: modules.externals,
  resolve: modules.resolve,
  module: {
    rules: [
      {
        test: /\.ts(x?)$/,
        loader: "ts-loader",
        options: {
          transpileOnly: true,
          configFile: inside("taskpane/workbench/tsconfig.json"),
          // Imports stay imports, so that of two forms of a package the one for browsers is taken.
          compilerOptions: { module: "esnext", moduleResolution: "bundler" },
        },
      },
    ],
  },
  plugins: [
    new HtmlPlugin({
      template: "taskpane/workbench/workbench.html",
      filename: "index.html",
      scriptLoading: "defer",
    }),
    new CopyPlugin({
      patterns: [
        { from: "taskpane/workbench/workbench.css" },
        { from: "taskpane/pane/pane.css", transform: scoped },
        ...["core", "conditional-formatting", "data-validation"].map((part) => ({
          from: `${grid}/preset-sheets-${part}/lib/index.css`,
          to: `grid-${part}.css`,
        })),
        { from: `${grid}/preset-sheets-core/LICENSE`, to: "grid.LICENSE.txt", toType: "file" },
        { from: "taskpane/icons/mark.svg", to: "mark.svg" },
      ],
    }),
  ],
};
