import type { JSX } from "preact";
import { useId, useRef, useState } from "preact/hooks";
import { Button } from "./form.tsx";
import { WORDS } from "../words/words.ts";

/** A text to be taken along: shown, and copied with one press where the browser lets a page do that. */
export function CopyText({
  label,
  text,
  rows = 8,
}: {
  readonly label: string;
  readonly text: string;
  readonly rows?: number;
}): JSX.Element {
  const id = useId();
  const field = useRef<HTMLTextAreaElement>(null);
  const [said, setSaid] = useState("");
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <textarea id={id} ref={field} readOnly rows={rows} value={text} />
      <p class="buttons">
        <Button
          press={() => {
            field.current?.select();
            copied(text).then(setSaid, () => {
              setSaid(WORDS.copy.byHand);
            });
          }}
        >
          {WORDS.copy.press}
        </Button>
        <span role="status">{said}</span>
      </p>
    </div>
  );
}

/** Excel on the web lets a page copy nothing; the text is selected all the same. */
async function copied(text: string): Promise<string> {
  await navigator.clipboard.writeText(text);
  return WORDS.copy.done;
}
