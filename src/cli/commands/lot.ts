import { z } from "zod";
import { type Day, isoText } from "../../core/day.ts";
import { CAUTIONS } from "../../book/records/cautions.ts";
import { quoted } from "../../book/workbook/cells.ts";
import { type Trace, TRACES } from "../../book/evidence/trace-place.ts";
import { lotChange, traceCounts, traced } from "../../book/evidence/lot-trace.ts";
import { BOOK, command, type Words } from "../command.ts";
import { UsageError } from "../io.ts";
import { type Outcome, runJob } from "../job.ts";
import type { OpenBook } from "../open.ts";
import { text } from "../option.ts";
import { AMOUNT, DATE, jobResult, list } from "../result.ts";
import { aligned } from "../report.ts";

const TRACE = z.strictObject({
  kind: z.enum(TRACES),
  site: z.string(),
  device: z.string(),
  part: z.string(),
  lot: z.string(),
  fitted: DATE.nullable(),
  replaced: DATE.nullable(),
  units: AMOUNT,
  note: z.string(),
});

const RESULT = { reportDate: DATE, traced: z.string(), traces: list(TRACE) };

/** What --json prints. */
type Result = z.infer<z.ZodObject<typeof RESULT>>;

/** The workbook, and the lot where one is named. */
const BOOK_AND_LOT: Words<{ readonly path: string; readonly name: string | null }> = {
  shows: "BOOK [LOT]",
  read([book, name = null, ...more]) {
    const path = BOOK.read(book === undefined ? [] : [book]);
    if (more[0] !== undefined) throw new UsageError(`one lot at a time, got "${more[0]}" too`);
    return { path, name };
  },
};

/** Where a lot is, was or may be; or the lots of a device. */
export const lot = command({
  name: "lot",
  moment: "Proof",
  brief: "where a lot is and was; unknown lots count as affected",
  about: `Where a lot is fitted now, lies on a shelf or was fitted before, and where it may be: parts of the same
kind whose lot was not recorded count as affected. Or the lots of one device over time. Upper and lower
case and outer spaces make no difference. Whether an event must be reported is not judged.`,
  words: BOOK_AND_LOT,
  writes: "[-o OUT]",
  common: ["json"],
  examples: ["lot equipment.xlsx L2452", "lot equipment.xlsx --device VR-105 -o traced.xlsx"],
  options: { device: text("ID", "the lots of this device, instead of a lot") },
  result: jobResult(RESULT),
  run(asked) {
    const { path, name } = asked.words;
    const { device } = asked.given;
    if ((name === null) === (device === null)) {
      throw new UsageError("give either a lot or a --device");
    }
    return runJob(path, asked, (book) => outcome(book, name ?? "", device));
  },
});

function outcome({ reading }: OpenBook, name: string, device: string | null): Outcome<Result> {
  if (device === null && name.trim() === "") throw new UsageError("the lot must not be blank");
  const found = device === null ? traced(reading, "lot", name) : traced(reading, "device", device);
  if (found === null) {
    throw new UsageError(`no device ${quoted(device ?? "")} in the register or the Job log`);
  }
  const { traces, of } = found;
  const { reportDate } = reading.ours.settings;
  return {
    lines: traceLines(traces, of, reportDate),
    json: { reportDate: isoText(reportDate), traced: of, traces: traces.map(traceJson) },
    change: lotChange(found, reportDate),
  };
}

function traceLines(traces: readonly Trace[], of: string, reportDate: Day): string[] {
  const head = ["Where", "Site", "Device", "Part", "Lot", "Fitted", "Replaced", "Units", ""];
  return [
    `Trace of ${of} as of ${isoText(reportDate)}: ${traceCounts(traces)}.`,
    ...(traces.length === 0 ? [] : ["", ...aligned([head, ...traces.map(traceTexts)])]),
    "",
    "An unknown lot counts as affected.",
    CAUTIONS.notJudged,
    CAUTIONS.planningAid,
  ];
}

function traceTexts(trace: Trace): string[] {
  const { kind, site, device, part, lot: name, fitted, replaced, units, note } = trace;
  const dated = (date: Day | null): string => (date === null ? "" : isoText(date));
  const count = units === null ? "" : String(units);
  return [kind, site, device, part, name, dated(fitted), dated(replaced), count, note];
}

function traceJson({ fitted, replaced, ...trace }: Trace): z.infer<typeof TRACE> {
  return {
    ...trace,
    fitted: fitted === null ? null : isoText(fitted),
    replaced: replaced === null ? null : isoText(replaced),
  };
}
