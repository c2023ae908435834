import { day } from "../src/core/day.ts";
import { labelPart } from "../src/core/label.ts";
import { defineRow } from "./define.ts";

/** One thing a scanned label says. */
export const LABELPART = defineRow({
  id: "LABELPART",
  about:
    "What a scanned GS1 label says: item, lot, serial (text, leading zeros kept), made, expires (a date; day 00 is the month's last). Bracketed or raw with separators; check digit verified. #N/A when the label does not have it.",
  args: {
    scan: {
      kind: "text",
      about:
        "What the scanner gave, in a cell formatted as text so that leading zeros are not lost.",
      takes: "row",
    },
    part: { kind: "text", about: "One of item, lot, serial, made, expires.", takes: "row" },
  },
  gives: { kind: "date", about: "Text; for made and expires a date, its year from 1951 to 2050." },
  see: "GS1 General Specifications, sections 3 and 7; ISO/IEC 15418.",
  examples: [
    { cells: ["(01)09506000134352(17)270200(10)0042", "item"], gives: "09506000134352" },
    { cells: ["(01)09506000134352(17)270200(10)0042", "lot"], gives: "0042" },
    { cells: ["]d20109506000134352100042\u001d17270200", "expires"], gives: day("2027-02-28") },
    {
      cells: ["(01)09506000134352(10)0042", "serial"],
      gives: { error: "#N/A", message: "the label has no element (21), serial" },
    },
    {
      cells: ["(01)09506000134353", "item"],
      gives: {
        error: "#VALUE!",
        message:
          'scan must be a GS1 label with a right check digit in (01), got "(01)09506000134353"',
      },
    },
  ],
  run:
    () =>
    ({ scan, part }) =>
      labelPart(scan, part),
});
