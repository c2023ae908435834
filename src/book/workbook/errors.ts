/** The workbook cannot be read as a programme's book; the message is one sentence that says why. */
export class BookError extends Error {
  override readonly name: string = "BookError";
}

/** A column looks like data about patients. It is named by sheet and heading, never by a value. */
export class PatientDataError extends BookError {
  override readonly name = "PatientDataError";
  readonly sheet: string;
  readonly heading: string;

  constructor(sheet: string, heading: string, looksLike: string) {
    super(
      `the column ${heading} of the sheet ${sheet} looks like patient data (${looksLike}): remove it; only totals per device belong in this workbook. If it is about devices or suppliers, say so in its heading, such as "Device photo" or "Supplier phone"`,
    );
    this.sheet = sheet;
    this.heading = heading;
  }
}
