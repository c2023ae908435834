import type { JSX } from "preact";
import { useRef, useState } from "preact/hooks";
import { markOf } from "../../src/book/answers/looks.ts";
import type { DueItem, ToInspect } from "../../src/book/day/today.ts";
import { unitNamed } from "../../src/book/records/positions.ts";
import type { Reading } from "../../src/book/records/records.ts";
import type { Place } from "../host.ts";
import { Button, Choice } from "./form.tsx";
import { InFoot } from "./in-foot.tsx";
import { later } from "./later.tsx";
import { Long } from "./pieces.tsx";
import type { SectionGiven } from "./section.ts";
import type { Show } from "./show.ts";
import { SIGNS } from "./tiles.tsx";
import { WORDS } from "./words.ts";

const words = WORDS.today;
const QuickLog = later((pages) => pages.QuickLog);

/** A line of the list: something due, or an inspection of the week. */
export type Due = DueItem | ToInspect;

/** What was pressed: a job for one line, or for all that are ticked. */
interface Doing {
  readonly job: "replaced" | "inspected";
  readonly lines: readonly Due[];
  readonly at: Due | null;
}

interface Given extends SectionGiven {
  readonly all: readonly Due[];
  /** Told whether a job is being written down. */
  readonly logging: (on: boolean) => void;
}

/** What needs a decision, each line with its two actions; several are ticked and done together. */
export function DueList({ all, logging, ...given }: Given): JSX.Element {
  const { book, desk, show, state } = given;
  const [site, setSite] = useState("");
  const { ticked, tick } = useTicks();
  const [doing, setDoing] = useState<Doing | null>(null);
  const shown = site === "" ? all : all.filter((one) => one.site === site);
  // What has been done since is not in the list any more.
  const chosen = shown.filter((one) => ticked.has(one));
  const from = useRef<Element | null>(null);
  const begin = (next: Doing | null): void => {
    if (next !== null) from.current = document.activeElement?.closest("li") ?? null;
    setDoing(next);
    logging(next !== null);
  };
  const close = (isDone: boolean): void => {
    begin(null);
    if (isDone) tick(all, false);
    else from.current?.querySelector("button")?.focus();
  };
  const form = doing !== null && <QuickLog {...given} {...doing} close={close} />;
  const off = state.busy !== null;
  return (
    <>
      <PickRow {...{ all, shown, site, setSite, tick }} isAll={chosen.length === shown.length} />
      {doing?.at === null && form}
      <Long
        label={words.list}
        style="lines"
        all={shown}
        one={(line) => (
          <>
            <LineTick {...{ line, ticked, tick }} />
            <LineText
              {...{ line, show }}
              press={() => void desk.select(placeOf(line, book.reading))}
            />
            {doing?.at === line ? (
              form
            ) : (
              <Actions
                {...{ line, off }}
                reading={book.reading}
                press={(job) => {
                  begin({ job, lines: [line], at: line });
                }}
              />
            )}
          </>
        )}
      />
      {chosen.length > 0 && doing === null && state.proposal === null && (
        <Several {...{ off }} lines={chosen} begin={begin} />
      )}
    </>
  );
}

interface Ticks {
  readonly ticked: ReadonlySet<Due>;
  readonly tick: (lines: readonly Due[], on: boolean) => void;
}

function useTicks(): Ticks {
  const [ticked, setTicked] = useState<ReadonlySet<Due>>(new Set());
  return {
    ticked,
    tick(lines, on) {
      const now = new Set(ticked);
      for (const line of lines) {
        if (on) now.add(line);
        else now.delete(line);
      }
      setTicked(now);
    },
  };
}

/** Which lines are in sight, and all of them ticked at once: a round, a delivery of new sets. */
function PickRow({
  all,
  shown,
  site,
  setSite,
  tick,
  isAll,
}: Pick<Ticks, "tick"> & {
  readonly all: readonly Due[];
  readonly shown: readonly Due[];
  readonly site: string;
  readonly setSite: (site: string) => void;
  readonly isAll: boolean;
}): JSX.Element {
  const sites = [...new Set(all.map((one) => one.site))];
  return (
    <div class="row pick">
      <label class="tick">
        <input
          type="checkbox"
          checked={isAll}
          onChange={() => {
            tick(shown, !isAll);
          }}
        />
        <span>{words.tickAll(shown.length)}</span>
      </label>
      {sites.length > 1 && (
        <Choice
          label={words.site}
          value={site}
          put={setSite}
          among={[["", words.allSites], ...sites.map((one): [string, string] => [one, one])]}
        />
      )}
    </div>
  );
}

/** The two actions for all that are ticked. */
function Several({
  lines,
  off,
  begin,
}: {
  readonly lines: readonly Due[];
  readonly off: boolean;
  readonly begin: (doing: Doing) => void;
}): JSX.Element {
  return (
    <InFoot>
      {(["replaced", "inspected"] as const).map((job) => (
        <Button
          key={job}
          off={off}
          press={() => {
            begin({ job, lines, at: null });
          }}
        >
          {words.several[job](lines.length)}
        </Button>
      ))}
    </InFoot>
  );
}

/** The two actions of a line; a dated task is calibrated, not replaced. */
function Actions({
  line: { unit, device, part },
  reading,
  off,
  press,
}: {
  readonly line: Due;
  readonly reading: Reading;
  readonly off: boolean;
  readonly press: (job: Doing["job"]) => void;
}): JSX.Element {
  const isTask = unitNamed(reading.ours.parts, unit)?.part.task === true;
  const action = (job: Doing["job"], text: string): JSX.Element => (
    <Button
      off={off}
      press={() => {
        press(job);
      }}
    >
      {text}
      <span class="unseen">{` ${device}, ${part}`}</span>
    </Button>
  );
  return (
    <div class="doing">
      {action("replaced", isTask ? words.calibrated : words.replaced)}
      {!isTask && action("inspected", words.inspected)}
    </div>
  );
}

function LineTick({ line, ticked, tick }: Ticks & { readonly line: Due }): JSX.Element {
  return (
    <input
      type="checkbox"
      aria-label={words.tick(line.device, line.part)}
      checked={ticked.has(line)}
      onChange={() => {
        tick([line], !ticked.has(line));
      }}
    />
  );
}

function LineText({
  line,
  show,
  press,
}: {
  readonly line: Due;
  readonly show: Show;
  readonly press: () => void;
}): JSX.Element {
  const { device, site, part } = line;
  const due = "state" in line ? line : null;
  const rest = due === null ? [] : [whenOf(due, show), show.said(due.why)];
  return (
    <button type="button" class={`item ${due === null ? "" : SIGNS[due.state]}`} onClick={press}>
      <strong>
        {due !== null && (
          <span class="sign">
            <span aria-hidden="true">{markOf(due.state)} </span>
            {`${due.state}: `}
          </span>
        )}
        {device}
      </strong>
      <span>{[part, site, ...rest].filter((text) => text !== "").join(" · ")}</span>
    </button>
  );
}

/** The cell that names the device of a line. */
function placeOf({ sheet, row }: Due, { registers }: Reading): Place {
  const matches = registers.find((one) => one.sheet === sheet)?.matches ?? [];
  return { sheet, row, column: matches.find(({ field }) => field === "device")?.column ?? 0 };
}

/** The due date and the days to it; what is out of use has none left. */
function whenOf({ due, daysLate, outOfUse }: DueItem, show: Show): string {
  if (due === null) return words.noDate;
  if (daysLate === null || (outOfUse && daysLate <= 0)) return show.day(due);
  return `${show.day(due)}, ${daysLate > 0 ? words.late(daysLate) : words.ahead(-daysLate)}`;
}
