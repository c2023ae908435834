import type { Definition } from "../../functions/define.ts";
import { register } from "../../functions/excel.ts";
import { answerText, formulaText, signature } from "../../functions/help.ts";
import { functions } from "../../functions/index.ts";
import { dayShift, type Place, recalculate, whereWeAre } from "../excel/place.ts";

const told: Readonly<Record<Place, string>> = {
  Excel: "Ready. Type =SPARE. in a cell to use these functions.",
  "a page outside Excel": "This page is open outside Excel: it shows the help, but no cells.",
  "a page without Office":
    "Excel's own script did not load, so the functions cannot run. Check the connection, then open the pane again.",
};

void start();

async function start(): Promise<void> {
  const list = document.getElementById("functions");
  list?.replaceChildren(...functions.map(entry));
  try {
    const place = await connect();
    say(told[place]);
  } catch (error) {
    say(`The functions could not be started: ${String(error)}`);
  }
}

/** Hands the functions to Excel at once, for open sheets wait for them, then asks for the day count. */
async function connect(): Promise<Place> {
  let shift = 0;
  const place = await whereWeAre();
  if (place === "a page without Office") return place;
  register(functions, () => shift);
  if (place !== "Excel") return place;
  shift = await dayShift();
  if (shift !== 0) await recalculate();
  return place;
}

function say(sentence: string): void {
  const place = document.getElementById("place");
  if (place) place.textContent = sentence;
}

/** One function, folded: what it gives, what it takes, examples. */
function entry(definition: Definition): HTMLElement {
  const { about, args, gives, see, examples, id } = definition;
  const taken = args.flatMap(({ name, about: said, optional }) => [
    element("dt", optional ? `${name} (may be left out)` : name),
    element("dd", said),
  ]);
  const shown = examples.map((example) =>
    element(
      "li",
      element("code", formulaText(definition, example)),
      ` gives ${answerText(definition, example)}`,
    ),
  );
  return element(
    "details",
    element("summary", id),
    element("p", element("code", signature(definition))),
    element("p", about),
    element("dl", ...taken),
    element("p", `Gives: ${gives.about}`),
    element("ul", ...shown),
    element("p", `Source: ${see}`),
  );
}

function element(name: string, ...content: (Node | string)[]): HTMLElement {
  const made = document.createElement(name);
  made.append(...content);
  return made;
}
