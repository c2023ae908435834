import { LocaleType, mergeLocales, ThemeService, Univer } from "@univerjs/core";
import { UniverDataValidationPlugin } from "@univerjs/data-validation";
import designTexts from "@univerjs/design/locale/en-US";
import { UniverDocsPlugin } from "@univerjs/docs";
import { UniverDocsUIPlugin } from "@univerjs/docs-ui";
import docsTexts from "@univerjs/docs-ui/locale/en-US";
import { UniverFormulaEnginePlugin } from "@univerjs/engine-formula";
import { UniverRenderEnginePlugin } from "@univerjs/engine-render";
import { UniverSheetsPlugin } from "@univerjs/sheets";
import { UniverSheetsConditionalFormattingPlugin } from "@univerjs/sheets-conditional-formatting";
import { UniverSheetsConditionalFormattingUIPlugin } from "@univerjs/sheets-conditional-formatting-ui";
import rulesTexts from "@univerjs/sheets-conditional-formatting-ui/locale/en-US";
import { UniverSheetsDataValidationPlugin } from "@univerjs/sheets-data-validation";
import { UniverSheetsDataValidationUIPlugin } from "@univerjs/sheets-data-validation-ui";
import choicesTexts from "@univerjs/sheets-data-validation-ui/locale/en-US";
import { UniverSheetsFormulaPlugin } from "@univerjs/sheets-formula";
import { UniverSheetsFormulaUIPlugin } from "@univerjs/sheets-formula-ui";
import formulaUiTexts from "@univerjs/sheets-formula-ui/locale/en-US";
import { UniverSheetsNumfmtPlugin } from "@univerjs/sheets-numfmt";
import { UniverSheetsNumfmtUIPlugin } from "@univerjs/sheets-numfmt-ui";
import numfmtTexts from "@univerjs/sheets-numfmt-ui/locale/en-US";
import { UniverSheetsUIPlugin } from "@univerjs/sheets-ui";
import sheetsUiTexts from "@univerjs/sheets-ui/locale/en-US";
import sheetsTexts from "@univerjs/sheets/locale/en-US";
import { UniverUIPlugin } from "@univerjs/ui";
import uiTexts from "@univerjs/ui/locale/en-US";
// What the grid is asked and told goes through these.
import "@univerjs/sheets/facade";
import "@univerjs/sheets-ui/facade";

const TEXTS = mergeLocales(
  designTexts,
  uiTexts,
  docsTexts,
  sheetsTexts,
  sheetsUiTexts,
  formulaUiTexts,
  numfmtTexts,
  rulesTexts,
  choicesTexts,
);

/** Dark by the person's own choice, in a contrast theme too: the grid draws its cells itself. */
const DARK = matchMedia("(prefers-color-scheme: dark)");

/**
 * The library with the parts the workbench uses, and no more: cells, typing, formulas, number formats, rules
 * and choices. The part that speaks to servers is not among them.
 */
export function newLibrary(container: HTMLElement): Univer {
  const univer = new Univer({
    locale: LocaleType.EN_US,
    locales: { [LocaleType.EN_US]: TEXTS },
    darkMode: DARK.matches,
  });
  DARK.addEventListener("change", () => {
    univer.__getInjector().get(ThemeService).setDarkMode(DARK.matches);
  });
  univer.registerPlugin(UniverDocsPlugin);
  univer.registerPlugin(UniverRenderEnginePlugin);
  univer.registerPlugin(UniverUIPlugin, {
    container,
    toolbar: false,
    contextMenu: false,
  });
  univer.registerPlugin(UniverDocsUIPlugin);
  univer.registerPlugin(UniverFormulaEnginePlugin);
  univer.registerPlugin(UniverSheetsPlugin);
  univer.registerPlugin(UniverSheetsUIPlugin, {
    // Sheets are neither added nor dressed here, and the browser makes things larger.
    footer: { menus: false, zoomSlider: false, addSheetButtonConfig: { show: false } },
    protectedRangeShadow: true,
    // Serial numbers are texts made of digits on purpose.
    disableForceStringAlert: true,
    disableForceStringMark: true,
  });
  univer.registerPlugin(UniverSheetsNumfmtPlugin);
  univer.registerPlugin(UniverSheetsNumfmtUIPlugin);
  univer.registerPlugin(UniverSheetsFormulaPlugin);
  univer.registerPlugin(UniverSheetsFormulaUIPlugin);
  univer.registerPlugin(UniverSheetsConditionalFormattingPlugin);
  univer.registerPlugin(UniverSheetsConditionalFormattingUIPlugin);
  univer.registerPlugin(UniverDataValidationPlugin);
  univer.registerPlugin(UniverSheetsDataValidationPlugin);
  univer.registerPlugin(UniverSheetsDataValidationUIPlugin, { showEditOnDropdown: false });
  return univer;
}
