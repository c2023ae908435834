import type { Mail } from "../book/share/mail.ts";

/**
 * A mail as a file that mail programs open as a message (RFC 5322, with the subject as RFC 2047 and the text as RFC 2045
 * say): without sender, receiver and date, which the person who sends it gives.
 */
export function messageFile({ subject, text }: Mail): string {
  const encoded = Buffer.from(text.replaceAll("\n", "\r\n")).toString("base64");
  return [
    `Subject: ${headerText(subject)}`,
    "MIME-Version: 1.0",
    "Content-Type: text/plain; charset=utf-8",
    "Content-Transfer-Encoding: base64",
    "X-Unsent: 1",
    "",
    ...(encoded.match(/.{1,76}/g) ?? []),
    "",
  ].join("\r\n");
}

/** An encoded word holds 75 characters and a line 78 with what stands before it; never a part of a letter. */
const BYTES_A_WORD = 42;

function headerText(text: string): string {
  const words: string[] = [];
  let word = "";
  for (const letter of text) {
    if (Buffer.byteLength(word + letter) > BYTES_A_WORD) {
      words.push(word);
      word = "";
    }
    word += letter;
  }
  words.push(word);
  return words.map((one) => `=?utf-8?B?${Buffer.from(one).toString("base64")}?=`).join("\r\n ");
}
