import type { JSX } from "preact";
import { useEffect, useId, useState } from "preact/hooks";
import { WORDS } from "./words.ts";

/** A file made in the page: a link that saves it, and its text for hosts that save nothing. */
export function SaveLink({
  name,
  kind,
  text,
}: {
  readonly name: string;
  readonly kind: string;
  readonly text: string | null;
}): JSX.Element | null {
  const id = useId();
  const [address, setAddress] = useState("");
  useEffect(() => {
    if (text === null) return undefined;
    const made = URL.createObjectURL(new Blob([text], { type: `${kind};charset=utf-8` }));
    setAddress(made);
    return () => {
      URL.revokeObjectURL(made);
    };
  }, [text, kind]);
  if (text === null) return null;
  return (
    <>
      <details>
        <summary id={id}>{WORDS.share.copy}</summary>
        <textarea readOnly rows={8} aria-labelledby={id} value={text} />
      </details>
      <a class="main" href={address} download={name}>
        {WORDS.share.save}
      </a>
    </>
  );
}
