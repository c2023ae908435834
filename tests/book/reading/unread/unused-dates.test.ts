import { describe, expect, it } from "vitest";
import { undatedParts } from "../../../../src/book/reading/unread/missing-columns.ts";
import { unusedDates } from "../../../../src/book/reading/unread/unused-dates.ts";
import { bookOf, on, readSheets, sheetOf, type Typed } from "../../../scenes/scene.ts";

/** What is advised for parts without a column, of devices with this column of dates. */
function advice(heading: string): string {
  const rows: Typed[][] = [
    ["Device", "Site", heading],
    ...["V-1", "V-2", "V-3", "V-4"].map((id): Typed[] => [id, "Oak", on("2026-05-04")]),
  ];
  const sheet = sheetOf("Kit", rows);
  return undatedParts(bookOf([sheet]), readSheets([sheet]))
    .map(({ problem }) => `${problem.cause} ${problem.fix}`)
    .join(" ");
}

/** What forms and exports write beside each line (common practice, no source). */
describe(unusedDates.name, () => {
  it.each([
    ...["Timestamp", "created_at", "Record modified", "Printed", "Last WO date", "Submitted on"],
    ...["Zeitstempel", "Erstellt am", "Horodateur", "Créé le", "Marca temporal", "Creado el"],
    ...["Informazioni cronologiche", "Creato il", "Carimbo de data/hora", "Criado em"],
    ...["Tijdstempel", "Aangemaakt op", "Sygnatura czasowa", "Utworzono"],
  ])("offers no day on which a line was written: %s", (heading) => {
    expect(advice(heading)).not.toContain(heading);
  });
  it.each(["Reworked", "Renouvelés", "Zelt"])("offers any other: %s", (heading) => {
    expect(advice(heading)).toContain(heading);
  });
});
