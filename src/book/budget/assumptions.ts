import { isoText } from "../../core/day.ts";
import type { Budget } from "./budget.ts";
import { percentText } from "../records/percent.ts";
import { CAUTIONS } from "../records/cautions.ts";
import { counted } from "../records/problems.ts";
import type { Part } from "../records/records.ts";
import { judgedShelf, notCounted } from "../records/shelf.ts";
import type { CellValue } from "../workbook/snapshot.ts";
import { spreadText } from "../year/use-spread.ts";
import { noWearWhy } from "../year/wear.ts";
import type { Result } from "../sheets/result.ts";
import { type ResultColumns, resultSheet } from "../sheets/result-sheet.ts";

/** The Assumptions sheet: one row an assumption of the budget. */
const ASSUMPTIONS = resultSheet({
  name: "Assumptions",
  title: "What the budget rests on",
  table: "SpareAssumptions",
  about: "every assumption of the budget with its value and where it is set",
  room: 500,
  columns: {
    Assumption: { width: 40, wraps: true, about: "What is assumed.", cell: ([what]) => what },
    Value: { width: 46, wraps: true, about: "Its value.", cell: ([, value]) => value },
    "Set in": {
      width: 24,
      wraps: true,
      about: "Where it can be changed.",
      cell: ([, , where]) => where,
    },
  } satisfies ResultColumns<Assumption>,
});

/** The Assumptions sheet of a budget. */
export function assumptionsSheet(budget: Budget): Result {
  return ASSUMPTIONS.filled({
    reportDate: budget.year.horizon.reportDate,
    notes: [CAUTIONS.ownSetting],
    rows: assumptionsOf(budget),
  });
}

/** What is assumed, its value, and where it is set. */
export type Assumption = readonly [what: string, value: CellValue, where: string];

/** The assumptions of a budget. */
export function assumptionsOf(budget: Budget): readonly Assumption[] {
  return [
    ...useRows(budget),
    ...wearRows(budget),
    ...settingRows(budget),
    ...supposedRows(budget),
    ...doubtfulRows(budget),
  ];
}

/** Asked for with this budget alone. */
const ASKED = "This budget";

/** Where something is set. */
function setIn(isAsked: boolean): string {
  return isAsked ? ASKED : "Setup";
}

function useRows({ year, fiscal, request }: Budget): Assumption[] {
  const devices = new Set<string>();
  for (const { units } of year.parts) {
    for (const { device } of units) if (device) devices.add(device);
  }
  const [first, last] = [fiscal.quarters[0]?.first ?? 0, fiscal.quarters.at(-1)?.last ?? 0];
  const sessions = year.use.programme.ahead
    .slice(first, last + 1)
    .reduce((sum, { uses }) => sum + uses, 0);
  return [
    ["Report date", isoText(year.horizon.reportDate), "Setup"],
    [
      "Fiscal year",
      `${isoText(fiscal.from)} to the day before ${isoText(fiscal.end)}`,
      setIn(request.from !== null),
    ],
    ["Devices in service", devices.size, "Register"],
    [
      fiscal.isRunning ? "Sessions left in the fiscal year" : "Sessions in the fiscal year",
      Math.round(sessions),
      request.births
        ? "Births on Sites; Births screened and Sessions per baby on Setup"
        : "Monthly counts",
    ],
    ["Uncertainty of usage", spreadText(year.horizon.spread, year.use) || "none", "Monthly counts"],
    ["Change of usage", percentText(request.whatIf.volume), ASKED],
  ];
}

function wearRows({ year, request }: Budget): Assumption[] {
  const looked = request.whatIf.wear === "log" ? "as seen in the Job log" : "not counted";
  return [
    ["Wear before the due date", looked, ASKED],
    ...year.parts.flatMap(({ part, wear }): Assumption[] =>
      part.task
        ? []
        : [
            ...partRows(part),
            [
              `${part.name}: worn before its due date`,
              wear.wear === null
                ? `not counted: ${noWearWhy(request.whatIf.wear)}`
                : `${wear.failures} in ${counted(Math.round(wear.months), "month")} in use`,
              "Job log",
            ],
          ],
    ),
  ];
}

function settingRows({ year, level, request }: Budget): Assumption[] {
  const { settings } = year.reading.ours;
  return [
    [
      "Spares kept",
      `one for each ${settings.spares}, more where early replacements require it`,
      "Setup",
    ],
    ["Service level", percentText(settings.serviceLevel), "Setup"],
    ["Price rise a year, on 1 January", percentText(settings.priceRise), "Setup"],
    ["Freight an order", settings.freight, "Setup"],
    ["Chance that the upper figure is enough", percentText(level), setIn(request.level !== null)],
    [
      "Ordering places",
      request.pooled ? "one store for all" : `by ${settings.spares}`,
      setIn(request.pooled),
    ],
  ];
}

function supposedRows({ year, request }: Budget): Assumption[] {
  const { added, retired, wipes } = request.whatIf;
  return [
    ...added.map(({ site, devices, uses }): Assumption => [
      `Devices assumed to be added at ${site}`,
      uses === null ? devices : `${devices}, each with ${uses} uses a month`,
      ASKED,
    ]),
    ...wipes.map(({ site, wipes: kind }): Assumption => [
      `Wipes assumed ${site === "" ? "everywhere" : `at ${site}`}`,
      kind,
      ASKED,
    ]),
    ...listed("Devices assumed to leave", retired, ASKED),
    ...year.leftOut.map((text): Assumption => ["Left out", text, "Register"]),
    ...listed("Using the estimate for their site", year.estimated, "Sites"),
  ];
}

/** What was taken with care, for it cannot be trusted. */
function doubtfulRows({ year: { reading } }: Budget): Assumption[] {
  const outOfLine = reading.counts.filter((count) => count.outOfLine !== undefined);
  return [
    ...notCounted(judgedShelf(reading)).map((text): Assumption => [
      "Stock in doubt",
      text,
      "Shelf",
    ]),
    ...outOfLine.map(({ device, month, count, outOfLine: side }): Assumption => {
      const value = `${device}, ${isoText(month).slice(0, 7)}: ${count ?? ""}`;
      return [`Count in doubt, too ${side ?? ""}`, value, "Monthly counts"];
    }),
  ];
}

function listed(what: string, names: readonly string[], where: string): Assumption[] {
  return names.length === 0 ? [] : [[what, names.join(", "), where]];
}

function partRows(part: Part): Assumption[] {
  const { supply } = part;
  return [
    [`${part.name}: interval`, `${part.shortest ?? "?"} to ${part.longest ?? "?"} months`, "Parts"],
    [`${part.name}: how usage shortens it`, curveText(part), "Parts, your own setting"],
    [
      `${part.name}: pack`,
      `${supply.pack} ${supply.unit} at ${supply.packPrice === null ? "no price" : supply.packPrice.toFixed(2)}${supply.quote === "" ? "" : `, quote ${supply.quote}`}`,
      "Parts",
    ],
  ];
}

function curveText({ useBudget, lightUse, heavyUse }: Part): string {
  const budget = (useBudget ?? 0) > 0 ? [`${useBudget ?? ""} uses a part`] : [];
  const ramp =
    lightUse === null || heavyUse === null
      ? []
      : [`longest up to ${lightUse}, shortest from ${heavyUse} uses a month`];
  return [...budget, ...ramp].join("; ") || "not stated: the shortest interval";
}
