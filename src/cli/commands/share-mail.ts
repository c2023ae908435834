import { z } from "zod";
import { existsSync, statSync } from "node:fs";
import { join } from "node:path";
import { isoText } from "../../core/day.ts";
import { roundsOf } from "../../book/day/rounds.ts";
import { comingWeek, weekText } from "../../book/evidence/period.ts";
import { type Mail, mailsOf } from "../../book/share/mail.ts";
import { type Asked, BOOK, command } from "../command.ts";
import { type ExitCode, UsageError } from "../io.ts";
import { doubtFirst, tellFaults } from "../job.ts";
import { messageFile } from "../mail-file.ts";
import { openBook } from "../open.ts";
import { choice, texts } from "../option.ts";
import { progressOn } from "../progress.ts";
import { DATE, DOUBTS, list } from "../result.ts";
import { fileWords, writeEach } from "../site-files.ts";

const RESULT = z.strictObject({
  reportDate: DATE,
  week: z.string(),
  mails: list(z.strictObject({ site: z.string(), subject: z.string(), text: z.string() })),
  doubts: DOUBTS,
  edits: list(z.string()).optional(),
  written: list(z.string()).optional(),
});

const OPTIONS = {
  site: texts("CODE", "this site only; may be repeated"),
  as: choice(["txt", "eml"], "plain text (the default), or messages that a mail program opens"),
};

/** A text for each site about its week. Nothing is sent. */
export const shareMail = command({
  name: "share mail",
  moment: "The year",
  brief: "a text to send to each site: overdue, due, to inspect",
  about: `A text for each site: what to replace now, what comes due and what to inspect in the coming week. Shown, or
with -o written into an existing folder, a file a site. Nothing is sent: read it, and send it yourself.`,
  words: BOOK,
  writes: "[-o FOLDER]",
  common: ["json"],
  examples: ["share mail equipment.xlsx", "share mail equipment.xlsx --as eml -o mails/"],
  options: OPTIONS,
  result: RESULT,
  run: writeMails,
});

function writeMails(asked: Asked<string, typeof OPTIONS, z.infer<typeof RESULT>>): ExitCode {
  const { words: path, given, request, io, say } = asked;
  const { output } = request;
  if (request.inPlace) throw new UsageError("share never changes the workbook itself; give -o");
  if (output !== null && !(existsSync(output) && statSync(output).isDirectory())) {
    throw new UsageError(`-o must be an existing folder, got ${output}`);
  }
  const book = openBook(path, request, io, progressOn(io));
  const { reportDate } = book.reading.ours.settings;
  const monday = comingWeek(reportDate);
  const mails = mailsOf(
    roundsOf(book.workbook.snapshot, book.reading, { monday, sites: given.site }),
  );
  const ending = `.${given.as ?? "txt"}`;
  const files = output === null ? [] : filesOf(mails, output, ending);
  const planned = files.map(({ path: to }) => to);
  const written = request.dryRun ? [] : writeEach(files, ending, request);
  doubtFirst(book, say)(
    () => [
      ...mails.flatMap(({ subject, text }) => [`Subject: ${subject}`, "", ...text.split("\n")]),
      ...planned,
    ],
    () => ({
      reportDate: isoText(reportDate),
      week: weekText(monday),
      mails,
      ...(request.dryRun ? { edits: planned } : {}),
      ...(written.length > 0 ? { written } : {}),
    }),
  );
  return tellFaults(book, io);
}

/** Sites whose names are alike in a file's name share a file: none of them is lost. */
function filesOf(mails: readonly Mail[], folder: string, ending: string) {
  const texts = new Map<string, Mail>();
  for (const mail of mails) {
    const path = join(folder, `mail ${fileWords(mail.site)}${ending}`);
    const before = texts.get(path);
    texts.set(
      path,
      before === undefined ? mail : { ...before, text: `${before.text}\n${mail.text}` },
    );
  }
  return [...texts].map(([path, mail]) => ({
    path,
    text: ending === ".eml" ? messageFile(mail) : `${mail.subject}\n\n${mail.text}`,
  }));
}
