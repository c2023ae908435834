import type { JSX } from "preact";
import { type SummaryLine, summarySteps } from "../../../src/book/share/summary.ts";
import { summaryChange } from "../../../src/book/share/summary-sheet.ts";
import { useAnswer } from "../state/answer.ts";
import { LATER_WORDS } from "../words/later-words.ts";
import { Lines } from "../pieces/pieces.tsx";
import { ProposeButton } from "../pieces/propose-button.tsx";
import { resultsRequest } from "../state/requests.ts";
import type { SectionGiven } from "../pieces/section.ts";
import type { Show } from "../state/show.ts";
import { Waiting } from "../pieces/waiting.tsx";

const words = LATER_WORDS.share;

/** The programme on one page, for whoever leads the department. */
export function SummaryPart(given: SectionGiven): JSX.Element {
  const { book, show } = given;
  const answer = useAnswer(() => summarySteps(book.snapshot, book.reading), [book]);
  const summary = answer.value;
  const { currency } = book.reading.ours.settings;
  return (
    <>
      <p class="hint">{words.summaryHint}</p>
      <Waiting answer={answer} />
      {summary !== null && (
        <>
          <Lines show={show} all={[...summary.doubts, summary.answer]} />
          <dl class="summary">
            {summary.lines.map((line) => (
              <div key={line.what}>
                <dt>{line.what}</dt>
                <dd>{figureText(line, currency, show)}</dd>
                <dd class="hint">{show.said(line.detail)}</dd>
              </div>
            ))}
          </dl>
        </>
      )}
      <ProposeButton
        {...given}
        off={summary === null}
        request={(today) =>
          resultsRequest(function* ({ snapshot, reading }) {
            return summaryChange(yield* summarySteps(snapshot, reading), snapshot);
          }, today)
        }
      >
        {words.show}
      </ProposeButton>
    </>
  );
}

function figureText({ figure, kind }: SummaryLine, currency: string, show: Show): string {
  if (figure === null) return "–";
  switch (kind) {
    case "count":
      return show.number(figure);
    case "tenth":
      return show.number(figure, 1);
    case "share":
      return show.percent(figure, 1);
    case "money":
      return show.money(figure, currency);
  }
}
