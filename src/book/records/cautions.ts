/** What every output carries. The first line alone goes where there is room for one. */
export const CAUTIONS: readonly string[] = [
  "Planning aid: the maker's instructions and local infection-control policy win wherever they are stricter or different.",
  "A computed date is the latest planned date, not a promise of condition: a bad inspection ends the part's life that day.",
  "Damage, corrosion or residue that will not clean: out of use now, whatever the date says.",
  "Contacts are replaced as a complete set; a part of a set is not counted as a replacement.",
  "Intact skin only.",
  "How usage shortens an interval is this programme's own setting; no public standard fixes it.",
  "Missing, late or doubtful counts give the shortest interval, never a longer one.",
  "No grace period is added to any date.",
  "Calibration, test validity and whether an event must be reported are not judged here.",
  "Counts only: no patient data belongs in the workbook.",
];
