import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { CopyText } from "../pieces/copy-text.tsx";
import type { Host } from "../../host.ts";
import { LATER_WORDS } from "../words/later-words.ts";

/** A file made in the page: a link that saves it, and its text; the text alone where links save nothing. */
export function SaveLink({
  host,
  name,
  kind,
  text,
}: {
  readonly host: Host | null;
  readonly name: string;
  readonly kind: string;
  readonly text: string | null;
}): JSX.Element | null {
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
  if (host?.savesFiles === false)
    return <CopyText label={LATER_WORDS.share.copyInto(name)} text={text} />;
  return (
    <>
      <details>
        <summary>{LATER_WORDS.share.copy}</summary>
        <CopyText label={LATER_WORDS.share.copyInto(name)} text={text} />
      </details>
      <a class="main" href={address} download={name}>
        {LATER_WORDS.share.save}
      </a>
    </>
  );
}
