/**
 * How an Excel behaves in what its documents leave open, or in what its users report of it. Each may be
 * changed while a workbook is open.
 */
export interface Temper {
  /** Formulas and what names refer to are told as Excel renders them, not as they were written. */
  rendersAnew: boolean;
  /** Milliseconds for which a formula of ours that was just written shows #BUSY!. */
  busyFor: number;
  /** Formulas are calculated when they are typed, and otherwise only when somebody asks for it. */
  isManual: boolean;
  /** The user looks at another workbook: Excel on a Mac then refuses the names of sheets. */
  isElsewhere: boolean;
  /** A cell is being edited: requests that do not wait for its end are refused. */
  isEditing: boolean;
  /** The workbook's structure is protected: no sheet comes or goes. */
  isFixed: boolean;
}

/** An Excel that makes nothing hard. */
export const MILD: Temper = {
  rendersAnew: false,
  busyFor: 0,
  isManual: false,
  isElsewhere: false,
  isEditing: false,
  isFixed: false,
};

/** An Excel that is as hard as it may be while everything can still be done. */
export const HOSTILE: Partial<Temper> = {
  rendersAnew: true,
  busyFor: 150,
  isManual: true,
  isElsewhere: true,
};
