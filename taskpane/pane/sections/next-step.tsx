import type { JSX } from "preact";
import type { Today } from "../../../src/book/day/today.ts";
import { Button } from "../pieces/form.tsx";
import type { SectionGiven } from "../pieces/section.ts";
import { WORDS } from "../words/words.ts";

const words = WORDS.today;

/** Where nothing could be judged, what to do next; that nothing is due is said of what was judged alone. */
export function NextStep({
  today,
  book,
  desk,
}: SectionGiven & { readonly today: Today }): JSX.Element | null {
  const { registers } = book.reading;
  const [register] = registers;
  if (today.devices === 0 && register !== undefined) {
    const { sheet, headerRow } = register;
    return (
      <div class="note">
        <p>{words.noDevices(sheet)}</p>
        <Button press={() => void desk.select({ sheet, row: headerRow + 1, column: 0 })}>
          {words.toSheet}
        </Button>
      </div>
    );
  }
  const dated = registers.some(({ matches }) => matches.some(({ field }) => isLastDone(field)));
  if (!dated && today.items.every(({ due }) => due === null)) {
    return (
      <div class="note">
        <p>{words.noDates}</p>
        <Button
          press={() => {
            desk.go("columns");
          }}
        >
          {words.toColumns}
        </Button>
      </div>
    );
  }
  return today.items.length === 0 ? <p>{words.empty(today.notDue)}</p> : null;
}

function isLastDone(field: string): boolean {
  return field.startsWith("last:");
}
