import { describe, expect, it } from "vitest";
import { readWorkbook } from "../../../src/book/reading/workbook.ts";
import { undatedParts } from "../../../src/book/reading/unread/missing-columns.ts";
import { bookOf, on, REPORT_DATE, sheetOf } from "../../scenes/scene.ts";
import { fieldAlone } from "./measure.ts";

/** Headings as people shorten and word them; own examples, common practice. */
const CALIBRATION =
  "Últ. calib.; Ult. calibr.; Kal.; Letzte Kal.; Kal.datum; Dern. étal.; Étal. le; Calibr. il; Ult. tarat.; Tarat.; Ijk.; Laatste ijk.; Kalibr. op; Dern. étal.; Lst cal; Kalibratie dd.; Ost. kalibr.; Wzorc.; Ostatnie wzorc.; MTK am; Cal";
const DUE =
  "Cal due; Nächst. Kal.; Próx. calib.; Nächste Kal.; Proch. étal.; Pross. tarat.; Nast. kalibr.; MTK bis";
const SET =
  "Électrodes posées le; Électrodes mises en place le; Elektroden eingesetzt; Elektroden neu am; Electrodos colocados el; Electrodos nuevos; Eletrodos colocados em; Eletrodos novos em; Elettrodi montati il; Elektroden geplaatst op; Elektroden aangebracht; Elektrody założono; Elektrody założone; Elektrody wymieniono; New electrodes; Electrodes mounted; Elektr. gewechselt; Wechsel Elektr.; Électr. remplacées le; Chgt électrodes; Camb. electrodos; Sost. elettrodi; Data sost. elettr.; Elektr. vervangen; Troca eletr.; Subst. eletrodos; Wym. elektrod; Elect. chgd; Electr. repl.; Lst elec repl";
const CUSHION =
  "Ohrp. gewechselt; Wechsel Ohrpolst.; Couss. remplacé le; Chgt coussinets; Camb. almohad.; Sost. cuscin.; Oorkuss. vervangen; Troca almof.; Wym. podusz.; Cush. chgd; Ear cush. repl.; Lst cush repl";
const SITE = "Abt.; Matern.; Hosp.; Osp.; Szpit.; Fac.; Loc; Einricht.";
const SERIAL = "Ser.-Nr.; N° sér.; Matr.; Serienr.; Nr ser.; Ser. no.";
const DEVICE =
  "Código; Codice; Code; Nº equipo; Nro equipo; Código equipo; Nº aparelho; Ger.-Nr.; Gerät Nr.; N° app.; Réf. app.; N. app.; Cod. app.; App.nr.; Nr urz.; Nr urządz.; Dev #; Eqpt ID";
/** Of parts, or of something that is not done to a part. */
const NONE =
  "Código de electrodos; Codice elettrodi; Code électrodes; Electrodes code; Código de repuesto; New electrodes due?; Electrodos nuevos pedidos; Neue Elektroden bestellt; New electrodes price";
/** Words cut short that may be of something else: no date is believed for them. */
const OPEN =
  "Elektr. gew.; Elektr. get.; Elektr. gepr.; Elektr. gerein.; Elektr. bestel.; Gepl. Wechsel Elektr.; Nächst. Wechsel Elektr.; Vorl. Wechsel Elektr.; Proch. chgt électr.; Électr. à rempl.; Électr. rem.; Elect. chan.; Elect. rem.; Electr. cln.; Verv. elektr.; Volg. verv. elektr.; Nast. wym. elektr.; Wym. elektr. do; Próx. camb. electr.; Ant. camb. electr.; Pross. sost. elettr.; Prev. electr. repl.; Electr. repl. by; Electr. repl. req.; Rempl. électr. prév.; Électr. pér.; Camb. electr. prev.; Sost. elettr. prev.; Électr. comm.; Électr. livr.; Électr. désinf.; Electr. ped.; Electr. venc.; Elektr. Verf.; Elektr. best.; Electr. repl. int.; Electr. repl. freq.; Electr. repl. exp.; Electr. lot; Bat. repl.";

const CASES = [
  ["last:CALIBRATION", CALIBRATION],
  ["due:CALIBRATION", DUE],
  ["last:SET", SET],
  ["last:CUSHION", CUSHION],
  ["device", DEVICE],
  ["site", SITE],
  ["serial", SERIAL],
] as const;

describe("headings as people shorten them", () => {
  it.each(
    CASES.flatMap(([field, all]) => all.split("; ").map((heading) => [heading, field] as const)),
  )("%s is %s", (heading, field) => {
    expect(fieldAlone(heading)).toBe(field);
  });

  it.each(NONE.split("; "))("%s is no date of a part and no device", (heading) => {
    expect(["last:SET", "last:CUSHION", "device"]).not.toContain(fieldAlone(heading));
  });

  it.each(OPEN.split("; "))("%s is no last replacement", (heading) => {
    expect(fieldAlone(heading) ?? "").not.toMatch(/^last:/);
  });

  it("that nobody knows are named where a dated task has no column", () => {
    const named = (heading: string): string[] => {
      const rows = [
        ["Device", "Electrodes replaced", "Cushion replaced", heading],
        ["A", on("2026-05-04"), on("2026-05-04"), on("2026-02-02")],
      ];
      const book = bookOf([sheetOf("Kit", rows)]);
      const reading = readWorkbook(book, REPORT_DATE, { reportDate: REPORT_DATE });
      return undatedParts(book, reading).map(({ problem }) => problem.cause);
    };
    expect(named("Ult. vtx.")).toEqual([
      'The dates under "Ult. vtx." are not understood, and no heading was understood as Calibration.',
    ]);
    expect(named("Device delivered")).toEqual([]);
    expect(named("Battery changed")).toEqual([]);
  });
});
