// Takes the pictures README shows from those the browser tests have made: npm run pictures.
import { copyFileSync, existsSync, mkdirSync } from "node:fs";

const PICTURES = {
  "workbench.png": "one-page.png",
  "today.png": "readme-today.png",
  "year-ahead.png": "readme-year-ahead.png",
  "order.png": "readme-order.png",
  "log.png": "readme-log.png",
};

mkdirSync("docs", { recursive: true });
for (const [name, made] of Object.entries(PICTURES)) {
  const path = `build/screens/${made}`;
  if (!existsSync(path)) throw new Error(`${path} is missing: run the browser tests first`);
  copyFileSync(path, `docs/${name}`);
}
