import type { TimeKind } from "../../print/layers/layerPlan";
import { num } from "../sheet/svg";

/** What takes time or filament, gathered into what a plot tells apart. */
export const kindGroups = ["shells", "filled", "sparse", "supports", "moving"] as const;
export type KindGroup = (typeof kindGroups)[number];

export const groupNames: Readonly<Record<KindGroup, string>> = {
  shells: "shells",
  filled: "filled layers",
  sparse: "sparse infill",
  supports: "supports and brim",
  moving: "moving and waiting",
};

export const groupOf: Readonly<Record<TimeKind | "start", KindGroup>> = {
  outerShell: "shells",
  innerShell: "shells",
  solidInfill: "filled",
  sparseInfill: "sparse",
  support: "supports",
  contact: "supports",
  brim: "supports",
  travel: "moving",
  layerChange: "moving",
  waiting: "moving",
  start: "moving",
};

export const kindNames: Readonly<Record<TimeKind | "start", string>> = {
  outerShell: "outer shell",
  innerShell: "inner shells",
  solidInfill: "filled layers",
  sparseInfill: "sparse infill",
  support: "supports",
  contact: "contact layers",
  brim: "brim",
  travel: "ways between",
  layerChange: "layer changes",
  waiting: "waiting to cool",
  start: "heating, levelling",
};

/**
 * Blues for the piece, ochre for what is thrown away, pale for what prints nothing. Lightness in CIELAB 26, 51, 81; 57; 91:
 * neighbours in a stack differ by it, and by pattern, so that they are told apart without hues and on a grey printer.
 */
export const groupFills: Readonly<Record<KindGroup, string>> = {
  shells: "#123f6e",
  filled: "#4180b0",
  sparse: "#abcfe4",
  supports: "#bf7b1e",
  moving: "#ebe5d6",
};

const patternMarks: Readonly<Record<KindGroup, string>> = {
  shells: "",
  filled: "",
  sparse: `<circle cx="3" cy="3" r="0.9" fill="#4180b0"/>`,
  supports: `<path d="M-1 1L1 -1M0 6L6 0M5 7L7 5" stroke="#5b3606" stroke-width="1.1"/>`,
  moving: `<path d="M0 3H6" stroke="#a79d86" stroke-width="0.7"/>`,
};

/** The patterns of all groups as definitions; `plot` keeps their names apart from those of other plots. */
export const groupPatterns = (plot: string): string =>
  `<defs>${kindGroups
    .map(
      (group) =>
        `<pattern id="${plot}-${group}" width="6" height="6" patternUnits="userSpaceOnUse">` +
        `<rect width="6" height="6" fill="${groupFills[group]}"/>${patternMarks[group]}</pattern>`,
    )
    .join("")}</defs>`;

/** A box in the fill of a group, with a fine line about it. */
export const filledBox = (
  plot: string,
  group: KindGroup,
  box: { readonly x: number; readonly y: number; readonly width: number; readonly height: number },
  className: string = group,
): string =>
  `<rect class="${className}" x="${num(box.x)}" y="${num(box.y)}" width="${num(box.width)}" height="${num(box.height)}" ` +
  `fill="url(#${plot}-${group})" stroke="#1b1d21" stroke-width="0.35"/>`;
