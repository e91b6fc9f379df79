import type { RefitRow } from "../../../src/build/refit/refitRow";

/** Paths and rows of *The Tide Court*. */

export const crown = "/court/coral-crown.headpiece.ts";
export const wreath = "/court/reed-wreath.headpiece.ts";
export const queen = "/court/kelp-queen.wearer.json";
export const minnow = "/court/minnow.wearer.json";
export const warden = "/court/marsh-warden.wearer.json";
export const helper = "/court/parts/branch.ts";

export const row = (design: string, wearer: string, more: Partial<RefitRow> = {}): RefitRow => ({
  design,
  wearer,
  headpiece: "Coral crown",
  wearerName: wearer.replace(/^.*\/|\.wearer\.json$/g, ""),
  verdict: "wear",
  passes: true,
  reasons: [],
  mass: 200,
  girthPlay: 12,
  messages: [],
  files: [],
  inputs: [design, wearer, ...(design === crown ? [helper] : [])],
  kept: false,
  ...more,
});
