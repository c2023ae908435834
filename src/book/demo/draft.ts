import { isoText, type Day } from "../../core/day.ts";
import type { Area, CellValue } from "../workbook/snapshot.ts";
import { type DemoDevice, MONTHS, monthAt, type Programme, REPORT_DATE } from "./programme.ts";

/** A sheet of the demonstration while it is being written: rows of cells that faults may change. */
export interface DraftSheet {
  readonly name: string;
  readonly rows: CellValue[][];
  /** Column formats from the first data row on; formulas by column, {r} for the row. */
  readonly formats: readonly (string | null)[];
  readonly formulas: ReadonlyMap<number, string>;
  readonly widths: readonly number[];
  headerRows: number[];
  readonly hiddenRows: number[];
  readonly merges: Area[];
  /** Cells whose formula is gone: row and column. */
  readonly bare: Set<string>;
}

/** Columns of the equipment register. */
export const EQUIPMENT = {
  device: 0,
  site: 1,
  model: 2,
  serial: 3,
  commissioned: 4,
  status: 5,
  retiredOn: 6,
  SET: 7,
  CUSHION: 8,
  CALIBRATION: 9,
  years: 10,
  remarks: 11,
} as const;

const EQUIPMENT_HEADINGS = [
  "Device",
  "Site",
  "Model",
  "Serial number",
  "In service since",
  "Status",
  "Retired on",
  "Electrode set replaced",
  "Ear cushion replaced",
  "Last calibrated",
  "Years in service",
  "Remarks",
];

const DATE = "yyyy-mm-dd";

/** Headings stand in the third row, below a title and a blank row. */
export const HEADER_ROW = 2;
export const FIRST_DATA_ROW = 3;

/** The register as a tidy manager keeps it. */
export function equipmentDraft({ devices }: Programme): DraftSheet {
  const [year, month, dayOfMonth] = isoText(REPORT_DATE).split("-").map(Number);
  return {
    name: "Equipment",
    rows: [
      ["Velloran Region: screening equipment"],
      [],
      [...EQUIPMENT_HEADINGS],
      ...devices.map((device) => equipmentRow(device)),
    ],
    formats: [null, null, null, null, DATE, null, DATE, DATE, DATE, DATE, "0.0", null],
    formulas: new Map([
      [EQUIPMENT.years, `ROUND((DATE(${year},${month},${dayOfMonth})-E{r})/365.25,1)`],
    ]),
    widths: [11, 8, 10, 14, 15, 11, 12, 20, 19, 15, 14, 26],
    headerRows: [HEADER_ROW],
    hiddenRows: [],
    merges: [],
    bare: new Set(),
  };
}

function equipmentRow(device: DemoDevice): CellValue[] {
  const { lastDone, commissioned } = device;
  return [
    device.id,
    device.site,
    Number(device.id.slice(3)) % 3 === 0 ? "Type B" : "Type A",
    device.serial,
    commissioned,
    device.retiredOn === null ? "In service" : "Retired",
    device.retiredOn,
    lastDone["SET"] ?? null,
    lastDone["CUSHION"] ?? null,
    lastDone["CALIBRATION"] ?? null,
    yearsIn(commissioned),
    device.retiredOn === null ? null : "Loaner, five weeks",
  ];
}

function yearsIn(commissioned: Day): number {
  return Math.round(((REPORT_DATE - commissioned) / 365.25) * 10) / 10;
}

/** Monthly counts: one row a device, one column a month, totals at the bottom. */
export function countsDraft({ devices }: Programme): DraftSheet {
  const months = Array.from({ length: MONTHS }, (_, index) => monthAt(index));
  const totals = months.map((_, index) =>
    devices.reduce((sum, device) => sum + (device.counts[index] ?? 0), 0),
  );
  return {
    name: "Monthly sessions",
    rows: [
      ["Sessions per device and month"],
      [],
      ["Device", "Site", ...months],
      ...devices.map((device) => [device.id, device.site, ...device.counts]),
      ["Total", null, ...totals],
    ],
    formats: [null, null, ...months.map(() => "0")],
    formulas: new Map(),
    widths: [11, 8, ...months.map(() => 9)],
    headerRows: [HEADER_ROW],
    hiddenRows: [],
    merges: [],
    bare: new Set(),
  };
}
