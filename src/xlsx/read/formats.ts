/** Number formats every workbook has without naming them. Source: ECMA-376 part 1, 18.8.30. */
const BUILT_IN: readonly (readonly [number, string])[] = [
  [0, "General"],
  [1, "0"],
  [2, "0.00"],
  [3, "#,##0"],
  [4, "#,##0.00"],
  [5, '"$"#,##0_);\\("$"#,##0\\)'],
  [6, '"$"#,##0_);[Red]\\("$"#,##0\\)'],
  [7, '"$"#,##0.00_);\\("$"#,##0.00\\)'],
  [8, '"$"#,##0.00_);[Red]\\("$"#,##0.00\\)'],
  [9, "0%"],
  [10, "0.00%"],
  [11, "0.00E+00"],
  [12, "# ?/?"],
  [13, "# ??/??"],
  [14, "mm-dd-yy"],
  [15, "d-mmm-yy"],
  [16, "d-mmm"],
  [17, "mmm-yy"],
  [18, "h:mm AM/PM"],
  [19, "h:mm:ss AM/PM"],
  [20, "h:mm"],
  [21, "h:mm:ss"],
  [22, "m/d/yy h:mm"],
  [37, "#,##0 ;(#,##0)"],
  [38, "#,##0 ;[Red](#,##0)"],
  [39, "#,##0.00;(#,##0.00)"],
  [40, "#,##0.00;[Red](#,##0.00)"],
  [45, "mm:ss"],
  [46, "[h]:mm:ss"],
  [47, "mmss.0"],
  [48, "##0.0E+0"],
  [49, "@"],
];

const CODES = new Map(BUILT_IN);
const IDS = new Map(BUILT_IN.map(([id, code]) => [code, id]));

/** East Asian books keep dates under these numbers. */
const isEastAsianDate = (id: number): boolean =>
  (id >= 27 && id <= 31) || id === 36 || (id >= 50 && id <= 54) || id === 57 || id === 58;

/** The code of a built-in number format; General for numbers nobody defined. */
export function builtInCode(id: number): string {
  return CODES.get(id) ?? (isEastAsianDate(id) ? "yyyy/m/d" : "General");
}

/** The number of a built-in format, or null for a code that needs its own. */
export function builtInId(code: string): number | null {
  return IDS.get(code) ?? null;
}

/** First number a workbook's own formats may have. */
export const FIRST_OWN_FORMAT = 164;

/** Whether a format code shows a date or time: a day, month, year, hour or second outside literals. */
export function showsDate(code: string): boolean {
  const bare = code.replace(/"[^"]*"|\\.|_.|\*.|\[(?![hms]+\])[^\]]*\]/gi, "");
  return /[dmyhs]/i.test(bare.replace(/general/gi, ""));
}
