import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { calendarText, dueEvents } from "../../../src/book/day/calendar.ts";
import { CAUTIONS } from "../../../src/book/records/cautions.ts";
import { modeOf } from "../../../src/book/columns/mode.ts";
import { comingWeek, weekText } from "../../../src/book/evidence/period.ts";
import { evidenceReport } from "../../../src/book/evidence/report.ts";
import { hasRoundSheets } from "../../../src/book/day/round-lines.ts";
import { roundsOf } from "../../../src/book/day/rounds.ts";
import { orderCsv, SEPARATORS, type Separator } from "../../../src/book/share/csv.ts";
import { purchaseOf } from "../../../src/book/share/purchase.ts";
import { evidenceChange } from "../../../src/book/evidence/evidence-change.ts";
import { roundsChange } from "../../../src/book/day/rounds-change.ts";
import { selfTestSheet } from "../../../src/book/share/self-test.ts";
import { oneStep } from "../../../src/book/workbook/steps.ts";
import { type Day, isoText, weekStart } from "../../../src/core/day.ts";
import { useAnswer } from "../state/answer.ts";
import { Choice, Input } from "../pieces/form.tsx";
import { Radios } from "../pieces/ticks.tsx";
import { LotPart } from "./lot.tsx";
import { ordersFor } from "./order.tsx";
import { SaveLink } from "./save.tsx";
import { SummaryPart } from "./summary.tsx";
import { ProposeButton } from "../pieces/propose-button.tsx";
import type { SectionGiven } from "../pieces/section.ts";
import { dayTyped, typedDay } from "../state/show.ts";
import type { Opened, Request } from "../state/state.ts";
import { Waiting } from "../pieces/waiting.tsx";
import { columnsRequest, resultsRequest } from "../state/requests.ts";
import { roundsLogged } from "../state/rounds-request.ts";
import { LATER_WORDS } from "../words/later-words.ts";

const words = LATER_WORDS.share;

/** What leaves the programme: sheets to print, files to send, columns without the add-in. */
export function ShareSection(given: SectionGiven): JSX.Element {
  const [what, setWhat] = useState("rounds");
  return (
    <>
      <p>{words.lead}</p>
      <p class="hint">{CAUTIONS.planningAid}</p>
      <Radios
        label={words.what}
        value={what}
        put={(value) => {
          setWhat(value);
          if (given.state.proposal !== null) given.desk.drop();
        }}
        among={[
          ["rounds", words.rounds],
          ["summary", words.summary],
          ["evidence", words.evidence],
          ["lot", words.lot],
          ["plain", words.plain],
          ["calendar", words.calendar],
          ["csv", words.csv],
        ]}
      />
      {what === "rounds" && <RoundsPart {...given} />}
      {what === "summary" && <SummaryPart {...given} />}
      {what === "evidence" && <EvidencePart {...given} />}
      {what === "lot" && <LotPart {...given} />}
      {what === "plain" && <PlainPart {...given} />}
      {what === "calendar" && <CalendarPart {...given} />}
      {what === "csv" && <CsvPart {...given} />}
    </>
  );
}

function RoundsPart(given: SectionGiven): JSX.Element {
  const [week, setWeek] = useState(comingWeek(given.book.reading.ours.settings.reportDate));
  const sheets = ({ snapshot, reading }: Opened) => {
    return roundsChange(roundsOf(snapshot, reading, { monday: week, sites: [] }));
  };
  return (
    <>
      <Input
        type="date"
        label={words.week}
        hint={weekText(week)}
        value={typedDay(week)}
        put={(text) => {
          const date = dayTyped(text);
          if (date !== null) setWeek(weekStart(date));
        }}
      />
      <ProposeButton
        {...given}
        request={(today) => resultsRequest((opened) => oneStep(() => sheets(opened)), today)}
      >
        {LATER_WORDS.share.show}
      </ProposeButton>
      {hasRoundSheets(given.book.snapshot) && (
        <ProposeButton {...given} request={roundsLogged}>
          {words.logRounds}
        </ProposeButton>
      )}
    </>
  );
}

function EvidencePart(given: SectionGiven): JSX.Element {
  const [from, setFrom] = useState("");
  const [to, setTo] = useState("");
  const sheets = ({ snapshot, reading }: Opened) => {
    const report = evidenceReport(snapshot, reading, {
      from: dayTyped(from),
      to: dayTyped(to),
      sites: [],
    });
    return evidenceChange(report, snapshot);
  };
  return (
    <>
      <Input type="date" label={words.from} value={from} put={setFrom} />
      <Input type="date" label={words.to} value={to} put={setTo} />
      <ProposeButton
        {...given}
        request={(today) => resultsRequest((opened) => oneStep(() => sheets(opened)), today)}
      >
        {LATER_WORDS.share.show}
      </ProposeButton>
    </>
  );
}

/** Native formulas in the place of worksheet functions, and a sheet that compares them with what was computed. */
function PlainPart(given: SectionGiven): JSX.Element {
  const { snapshot, reading } = given.book;
  const mode = modeOf(snapshot, reading);
  return (
    <>
      {mode === null && <p>{words.noColumns}</p>}
      {mode !== null && mode !== "live" && <p>{words.notLive}</p>}
      <p class="hint">{words.selfTest}</p>
      <ProposeButton {...given} off={mode === null} request={plainRequest}>
        {LATER_WORDS.share.show}
      </ProposeButton>
    </>
  );
}

/** The columns without the add-in, then the Self-test sheet beside them. */
function plainRequest(today: Day): Request {
  const compared = resultsRequest(
    ({ snapshot, reading }) =>
      oneStep(() => {
        const sheet = selfTestSheet(snapshot, reading);
        return { results: sheet === null ? [] : [sheet], summary: words.selfTestMade };
      }),
    today,
  );
  return { steps: [...columnsRequest("portable", today).steps, ...compared.steps] };
}

function CalendarPart({ book, desk }: SectionGiven): JSX.Element {
  const { reportDate } = book.reading.ours.settings;
  const answer = useAnswer(
    () =>
      oneStep(() => {
        const events = dueEvents(book.snapshot, book.reading, []);
        return events.length === 0 ? null : calendarText(events, reportDate);
      }),
    [book],
  );
  return (
    <>
      <Waiting answer={answer} />
      {answer.value === null && !answer.working ? (
        <p>{words.noDue}</p>
      ) : (
        <SaveLink
          host={desk.host()}
          name={`due ${isoText(reportDate)}.ics`}
          kind="text/calendar"
          text={answer.value}
        />
      )}
    </>
  );
}

function CsvPart({ book, desk }: SectionGiven): JSX.Element {
  const [buyer, setBuyer] = useState("");
  const [separator, setSeparator] = useState<Separator>("comma");
  const date = isoText(book.reading.ours.settings.reportDate);
  const answer = useAnswer(
    function* () {
      const said = { book: "", buyer, seller: null, number: null };
      const purchase = purchaseOf(yield* ordersFor(book, false), said);
      return purchase.lines.length === 0 ? null : orderCsv(purchase, { separator, mark: true });
    },
    [book, buyer, separator],
  );
  return (
    <>
      <Input label={words.buyer} value={buyer} put={setBuyer} />
      <Choice
        label={words.separator}
        value={separator}
        put={(value) => {
          if (value in SEPARATORS) setSeparator(value as Separator);
        }}
        among={Object.keys(SEPARATORS).map((name): [string, string] => [name, name])}
      />
      <Waiting answer={answer} />
      {answer.value === null && !answer.working ? (
        <p>{words.noOrder}</p>
      ) : (
        <SaveLink
          host={desk.host()}
          name={`order ${date}.csv`}
          kind="text/csv"
          text={answer.value}
        />
      )}
    </>
  );
}
