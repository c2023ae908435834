import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { CopyText } from "../pieces/copy-text.tsx";
import type { Desk } from "../state/desk.ts";
import { LATER_WORDS } from "../words/later-words.ts";
import { WORDS } from "../words/words.ts";

/** What may help whoever is asked about a fault; also where no workbook can be read. */
export function FaultReport({ desk }: { readonly desk: Desk }): JSX.Element | null {
  const [text, setText] = useState("");
  const report = desk.host()?.report;
  if (report === undefined) return null;
  const { title, text: about, label } = LATER_WORDS.report;
  return (
    <details
      onToggle={(event) => {
        // As it stands when somebody looks.
        if (!event.currentTarget.open) return;
        report().then(setText, () => {
          desk.say(WORDS.offline);
        });
      }}
    >
      <summary>{title}</summary>
      <p>{about}</p>
      {text !== "" && <CopyText label={label} text={text} rows={10} />}
    </details>
  );
}
