import { type Day, isoText } from "../core/day.ts";
import { CAUTIONS } from "../book/records/cautions.ts";
import { quoted } from "../book/workbook/cells.ts";
import type { Trace } from "../book/evidence/trace-place.ts";
import { lotChange, traceCounts, traced } from "../book/evidence/lot-trace.ts";
import { UsageError } from "./io.ts";
import { type Command, type Outcome, runJob } from "./job.ts";
import type { OpenBook } from "./open.ts";
import { aligned } from "./report.ts";

/** Where a lot is, was or may be; or the lots of a device. */
export const lot: Command = (wish, io) => {
  const [command = "", book = "", name, ...more] = wish.words;
  const device = wish.text("device");
  if (book !== "" && (name === undefined) === (device === null)) {
    throw new UsageError("say either which lot or which --device");
  }
  const [extra] = more;
  if (extra !== undefined) throw new UsageError(`one lot at a time, got "${extra}" too`);
  const words = book === "" ? [command] : [command, book];
  return runJob({ ...wish, words }, io, {
    work: (opened) => outcome(opened, { name, device }),
  });
};

interface Asked {
  readonly name: string | undefined;
  readonly device: string | null;
}

function outcome({ reading }: OpenBook, { name = "", device }: Asked): Outcome {
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
    "A lot that is unknown counts as affected.",
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

function traceJson({ fitted, replaced, ...trace }: Trace): object {
  return {
    ...trace,
    fitted: fitted === null ? null : isoText(fitted),
    replaced: replaced === null ? null : isoText(replaced),
  };
}
