/** The colours and line widths (mm) of the drawing sheet: warm ink, coral for the piece, sea for the head. */
export const palette = {
  paper: "#fdfbf5",
  ink: "#33272a",
  inkSoft: "#8d7b78",
  hairline: "#cfc3b8",
  accent: "#b5523f",
  /** From the lightest tone to the darkest. */
  piece: ["#fbe9de", "#f3cdbb", "#e2a48e", "#c47764", "#96504a"],
  pieceLine: "#3f2426",
  head: ["#eff5f2", "#e3eeea", "#d3e3df"],
  headLine: "#6f9aa0",
  headHidden: "#3c7480",
} as const;

/** Brightness below which each darker tone begins. */
export const pieceLevels = [0.74, 0.58, 0.42, 0.27] as const;
export const headLevels = [0.66, 0.44] as const;

export const widths = {
  outline: 0.38,
  overlap: 0.25,
  seam: 0.14,
  head: 0.22,
  headDetail: 0.15,
  dimension: 0.13,
  frame: 0.5,
} as const;

export const serif = "Georgia, 'Palatino Linotype', 'Book Antiqua', 'DejaVu Serif', serif";
export const sans = "'Gill Sans', 'Gill Sans MT', Optima, 'Segoe UI', 'DejaVu Sans', sans-serif";
