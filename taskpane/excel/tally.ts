/** Refusals that are kept. */
const MOST_REFUSALS = 5;

/** What went between the pane and Excel since the pane was opened: numbers and codes, nothing of a workbook. */
const tally = {
  requests: 0,
  /** Characters of the largest answer, about. */
  largest: 0,
  refusals: [] as string[],
};

/** Counts the requests of a context. */
export function counted<C extends Pick<Excel.RequestContext, "sync">>(context: C): C {
  const sync = context.sync.bind(context);
  context.sync = (value) => {
    tally.requests += 1;
    return sync(value);
  };
  return context;
}

/** An answer came that had about so many characters. */
export function answerCame(characters: number): void {
  tally.largest = Math.max(tally.largest, characters);
}

/** Excel refused something: its code, and which of its members it was, but not its own words, which may name sheets. */
export function refused(code: string, where: unknown): void {
  const at = typeof where === "string" && /^[\w.]{1,60}$/.test(where) ? ` at ${where}` : "";
  const time = new Date().toTimeString().slice(0, 8);
  tally.refusals = [...tally.refusals, `${time} ${code}${at}`].slice(-MOST_REFUSALS);
}

/** What was counted so far. */
export function tallied(): Readonly<typeof tally> {
  return { ...tally };
}
