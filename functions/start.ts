// What runs where the functions stand alone, without the pane's page.
import { register } from "./excel.ts";
import { functions } from "./index.ts";

register(
  () => functions,
  () => 0,
);
