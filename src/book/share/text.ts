/** What no text that leaves the programme may hold: control characters and halves of characters. */
const UNFIT =
  /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\ufffe\uffff]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g;

/** A text without control characters; line breaks are line feeds. */
export function plainText(text: string): string {
  return text.replace(/\r\n?/g, "\n").replace(UNFIT, "");
}
