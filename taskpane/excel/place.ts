// The only folder that speaks to Office and Excel.

/** Excel's number of a known day in a 1900 workbook: DATE(2000,1,1). */
const NEW_YEAR_2000 = 36526;

/** Where the page runs. */
export type Place = "Excel" | "a page outside Excel" | "a page without Office";

/** Whether Office's script has loaded. */
export function isOfficeHere(): boolean {
  return typeof Office !== "undefined";
}

/** Waits until Office says where the page runs. */
export async function whereWeAre(): Promise<Place> {
  if (!isOfficeHere()) return "a page without Office";
  const { host } = await Office.onReady();
  return String(host) === "Excel" ? "Excel" : "a page outside Excel";
}

/**
 * Waits until somebody can see the pane. With a workbook that starts the add-in the page is there for the
 * functions alone, and nothing needs to be read. Office tells when it is shown; a page that was never hidden
 * is told by nobody, so the page's own signs count as well.
 */
export async function whenSeen(): Promise<void> {
  if (isSeen()) return;
  await new Promise<void>((seen) => {
    const look = (): void => {
      if (isSeen()) seen();
    };
    document.addEventListener("visibilitychange", look);
    addEventListener("resize", look);
    if (!Office.context.requirements.isSetSupported("SharedRuntime", "1.1")) return;
    const shown = Office.addin.onVisibilityModeChanged(({ visibilityMode }) => {
      if (visibilityMode === Office.VisibilityMode.taskpane) seen();
    });
    // Without it there are the page's own signs.
    shown.catch(() => undefined);
  });
}

function isSeen(): boolean {
  return document.visibilityState === "visible" && innerHeight > 0;
}

/**
 * Days by which the workbook's count lags behind the 1900 system: 0, or 1462 in a 1904 workbook.
 * Office does not tell which system a workbook has, so it is asked for the number of a known day.
 */
export async function dayShift(): Promise<number> {
  return Excel.run({ delayForCellEdit: true }, async (context) => {
    const probe = context.workbook.functions.date(2000, 1, 1).load("value");
    await context.sync();
    return NEW_YEAR_2000 - probe.value;
  });
}

/** Calculates every formula of the open workbooks anew. */
export async function recalculate(): Promise<void> {
  await Excel.run({ delayForCellEdit: true }, async (context) => {
    context.workbook.application.calculate("Full");
    await context.sync();
  });
}

/** How bright a ground is that is read on dark letters, 0 to 255. */
const BRIGHT = 128;

/** Whether Excel itself is light or dark; null where it does not say. */
export function excelTheme(): "light" | "dark" | null {
  // The typings promise it; where Excel says nothing the page follows the system.
  const theme = Office.context.officeTheme as Office.OfficeTheme | undefined;
  const ground = /^#?([\da-f]{2})([\da-f]{2})([\da-f]{2})$/i.exec(theme?.bodyBackgroundColor ?? "");
  if (ground === null) return null;
  const [red = 0, green = 0, blue = 0] = ground.slice(1).map((part) => parseInt(part, 16));
  // Weights of the three for how bright a colour seems: ITU-R BT.601, from memory.
  return 0.299 * red + 0.587 * green + 0.114 * blue < BRIGHT ? "dark" : "light";
}
