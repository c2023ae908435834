import type { JSX } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { Actions, type Due, type DueJob, LineText, placeOf } from "./due-line.tsx";
import { Button, Choice } from "../pieces/form.tsx";
import { InFoot } from "../pieces/in-foot.tsx";
import { later } from "./later.tsx";
import { Long } from "../pieces/pieces.tsx";
import type { SectionGiven } from "../pieces/section.ts";
import { WORDS } from "../words/words.ts";

const words = WORDS.today;
const QuickLog = later((pages) => pages.QuickLog);

/** What was pressed: a job for one line, or for all that are ticked. */
interface Doing {
  readonly job: DueJob;
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
  };
  useTelling(doing !== null || chosen.length > 0, logging);
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

/** Tells whether something is begun, and that it is not once the list is gone. */
function useTelling(on: boolean, tell: (on: boolean) => void): void {
  useEffect(() => {
    tell(on);
    return () => {
      tell(false);
    };
  }, [on]);
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
