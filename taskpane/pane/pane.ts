import { register } from "../../functions/excel.ts";
import { excelHere } from "../excel/here.ts";
import { excelHost } from "../excel/host.ts";
import {
  dayShift,
  excelTheme,
  isOfficeHere,
  recalculate,
  whenSeen,
  whereWeAre,
} from "../excel/place.ts";
import { onDemand } from "../on-demand.ts";
import { mount } from "./mount.ts";
import { sentenceOf } from "./state/trouble.ts";
import { WORDS } from "./words/words.ts";

let shift = 0;
const functions = onDemand(async () => (await import("../../functions/index.ts")).functions);
if (isOfficeHere()) {
  // At once, before Office has answered: open sheets wait for their functions.
  register(
    () => functions.there() ?? functions.fetched(),
    () => shift,
  );
  // What they run is on its way from now on; where it cannot be had, the cell that asks next says so.
  functions.fetched().catch(() => undefined);
}

const desk = mount();

void start();

/** Finds out where the page runs, and reads the workbook. */
async function start(): Promise<void> {
  try {
    const place = await whereWeAre();
    if (place !== "Excel") {
      desk.alone(WORDS.alone[place]);
      return;
    }
    const theme = excelTheme();
    if (theme !== null) document.documentElement.dataset["theme"] = theme;
    shift = await dayShift();
    if (shift !== 0) await recalculate();
    await whenSeen();
    await desk.connected(excelHost(excelHere(shift)));
  } catch (error) {
    desk.alone(sentenceOf(error));
  }
}
