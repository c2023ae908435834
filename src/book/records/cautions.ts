import { PLANNING_AID } from "./planning-aid.ts";

/** What every output carries, in the order in which lists have it. The planning aid alone goes where there is room for one. */
export const CAUTIONS = {
  planningAid: PLANNING_AID,
  latestPlannedDate:
    "A computed date is the latest planned date, not a guarantee of condition: a bad inspection ends the part's life that day.",
  damage:
    "Damage, corrosion or residue that will not clean: out of use now, whatever the date says.",
  completeSets:
    "Contacts are replaced as a complete set; replacing only part of a set does not count as a replacement.",
  intactSkin: "Intact skin only.",
  ownSetting:
    "How usage shortens an interval is this programme's own setting; no public standard fixes it.",
  shortestInDoubt:
    "Missing, late or doubtful counts give the shortest interval, never a longer one.",
  noGrace: "No grace period is added to any date.",
  notJudged:
    "Calibration, test validity and whether an event must be reported are not judged here.",
  noPatientData: "Counts only: no patient data belongs in the workbook.",
} as const;

/** All of them, for lists. */
export const ALL_CAUTIONS: readonly string[] = Object.values(CAUTIONS);
