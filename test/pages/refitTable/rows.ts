import type { RowFigures, RowPlace, TableMessage } from "../../../src/pages/refitTable/protocol";

/** Rows of *The Tide Court* as the extension would tell them. */

export const figures = (more: Partial<RowFigures> = {}): RowFigures => ({
  headpiece: "Coral crown",
  wearer: "Kelp Queen",
  verdict: "wear",
  passes: true,
  reasons: [],
  girthPlay: 12.34,
  girthEase: 12,
  chance: 0.94,
  mass: 212.4,
  box: { width: 211.6, depth: 198.2, height: 140 },
  plate: { printer: "Hall 220", fits: true, summary: "tilted 12°" },
  hours: 9.2,
  messages: [],
  ...more,
});

export const place = (key: string, more: Partial<RowPlace> = {}): RowPlace => ({
  key,
  label: key,
  state: "current",
  isChosen: false,
  ...more,
});

export const table = (rows: readonly RowPlace[], more: Partial<TableMessage> = {}): TableMessage => ({
  kind: "table",
  scope: "design",
  design: { uri: "file:///court/coral-crown.headpiece.ts", label: "coral-crown" },
  groups: [{ design: "/court/coral-crown.headpiece.ts", label: "coral-crown", rows }],
  run: { phase: "idle", done: rows.length, all: rows.length },
  messages: [],
  cautions: ["This is costume, not protective equipment."],
  ...more,
});
