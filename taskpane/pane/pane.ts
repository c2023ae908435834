import { register } from "../../functions/excel.ts";
import { functions } from "../../functions/index.ts";
import { excelHere } from "../excel/here.ts";
import { excelHost } from "../excel/host.ts";
import { dayShift, recalculate, whereWeAre } from "../excel/place.ts";
import { mount } from "./mount.ts";
import { sentenceOf } from "./trouble.ts";
import { WORDS } from "./words.ts";

const desk = mount();

void start();

/** Hands the functions to Excel at once, for open sheets wait for them, then reads the workbook. */
async function start(): Promise<void> {
  try {
    let shift = 0;
    const place = await whereWeAre();
    if (place !== "a page without Office") register(functions, () => shift);
    if (place !== "Excel") {
      desk.alone(WORDS.alone[place]);
      return;
    }
    shift = await dayShift();
    if (shift !== 0) await recalculate();
    await desk.connected(excelHost(excelHere(shift)));
  } catch (error) {
    desk.alone(sentenceOf(error));
  }
}
