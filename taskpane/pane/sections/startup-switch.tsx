import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import type { Desk } from "../state/desk.ts";
import { Tick } from "../pieces/ticks.tsx";
import { WORDS } from "../words/words.ts";

/** Whether the pane starts with this workbook, where the host lets that be chosen. */
export function StartupSwitch({ desk }: { readonly desk: Desk }): JSX.Element | null {
  const startup = desk.host()?.startup;
  const [on, setOn] = useState<boolean | null>(null);
  useEffect(() => {
    if (startup !== undefined) void desk.ask(() => startup.get()).then(setOn);
  }, [startup]);
  if (startup === undefined || on === null) return null;
  return (
    <Tick
      label={WORDS.startup}
      on={on}
      put={(wanted) => {
        void desk
          .ask(() => startup.set(wanted))
          .then(() => {
            setOn(wanted);
          });
      }}
    />
  );
}
