import type { Vec3 } from "../../geometry/vector";
import { firstRunOfCells } from "./cellRuns";
import { type ColumnLimits, columnRisk } from "./columnRisk";
import type { SupportColumn, SupportRuns } from "./support";

/** Distance between the levels at which a column's width is taken, mm. */
const levelStep = 2;

/**
 * What hangs together of upright runs: those over cells with a side in common that overlap in height. Gives each run its
 * group, and writes nothing else.
 */
export function groupRuns(runs: Omit<SupportRuns, "group" | "landing">): {
  group: Int32Array;
  groups: number;
} {
  const { count, column, row, columns, rows, bottom, top } = runs;
  const parent = new Int32Array(count);
  for (let i = 0; i < count; i++) parent[i] = i;
  const root = (i: number): number => {
    let r = i;
    while (parent[r] !== r) {
      parent[r] = parent[parent[r]];
      r = parent[r];
    }
    return r;
  };
  const first = firstRunOfCells(runs);
  const join = (i: number, cell: number): void => {
    for (let j = first[cell]; j < first[cell + 1]; j++) {
      if (bottom[j] >= top[i] || bottom[i] >= top[j]) continue;
      const [a, b] = [root(i), root(j)];
      if (a !== b) parent[Math.max(a, b)] = Math.min(a, b);
    }
  };
  for (let i = 0; i < count; i++) {
    const cell = row[i] * columns + column[i];
    if (column[i] + 1 < columns) join(i, cell + 1);
    if (row[i] + 1 < rows) join(i, cell + columns);
  }
  const group = new Int32Array(count);
  let groups = 0;
  for (let i = 0; i < count; i++) group[i] = parent[i] === i ? groups++ : group[root(i)];
  return { group, groups };
}

/**
 * The columns that runs make: volume, foot, slenderness, risk.
 *
 * The slenderness is that of the worst level: height of what stands above it over its least width there, so that a wide
 * head on a thin leg has the slenderness of the leg, and a wedge that runs out to an edge has that of the wedge. Width of
 * a section: that of the rectangle with the same least second moment of area, √(12 · λ), λ the least principal moment
 * over the area (a circle of radius r: √3 · r).
 */
export function supportColumns(runs: SupportRuns, gap: number, limits: ColumnLimits): SupportColumn[] {
  const { count, cell, group } = runs;
  let groups = 0;
  for (let i = 0; i < count; i++) if (group[i] >= groups) groups = group[i] + 1;
  const order = byGroup(group, groups);
  const columns: SupportColumn[] = [];
  for (let g = 0; g < groups; g++) {
    columns.push(measured(runs, order.runs.subarray(order.first[g], order.first[g + 1]), gap, limits, cell));
  }
  return columns;
}

function byGroup(group: Int32Array, groups: number): { first: Int32Array; runs: Int32Array } {
  const first = new Int32Array(groups + 1);
  for (let i = 0; i < group.length; i++) first[group[i] + 1]++;
  for (let g = 0; g < groups; g++) first[g + 1] += first[g];
  const used = first.slice();
  const runs = new Int32Array(group.length);
  for (let i = 0; i < group.length; i++) runs[used[group[i]]++] = i;
  return { first, runs };
}

function measured(
  runs: SupportRuns,
  members: Int32Array,
  gap: number,
  limits: ColumnLimits,
  cell: number,
): SupportColumn {
  const area = cell * cell;
  let [bottom, top, volume, x, y] = [Infinity, -Infinity, 0, 0, 0];
  let onPlate = false;
  const contact = new Map<number, number>();
  for (const i of members) {
    if (runs.bottom[i] < bottom) bottom = runs.bottom[i];
    if (runs.top[i] > top) top = runs.top[i];
    volume += (runs.top[i] - runs.bottom[i]) * area;
    if (runs.onPlate[i]) onPlate = true;
    x += runs.column[i];
    y += runs.row[i];
    contact.set(runs.part[i], (contact.get(runs.part[i]) ?? 0) + area / runs.steepness[i]);
  }
  const levels = sectionsOf(runs, members, bottom, top);
  const { slenderness, width } = worstLevel(levels, top);
  const at = middleOf(runs, members, x / members.length, y / members.length, gap);
  const risk = columnRisk({ height: top - bottom, slenderness, footModulus: levels.footModulus }, limits);
  return {
    parts: [...contact].sort(([p, a], [q, b]) => b - a || p - q).map(([part]) => part),
    bottom,
    top,
    volume,
    width,
    footArea: members.length * area,
    slenderness,
    onPlate,
    at,
    ...(risk && { risk }),
  };
}

/** What is held up nearest to the middle of it all. */
function middleOf(runs: SupportRuns, members: Int32Array, column: number, row: number, gap: number): Vec3 {
  let [best, least] = [members[0], Infinity];
  for (const i of members) {
    const away = (runs.column[i] - column) ** 2 + (runs.row[i] - row) ** 2;
    if (away < least) [best, least] = [i, away];
  }
  return [
    runs.origin[0] + (runs.column[best] + 0.5) * runs.cell,
    runs.origin[1] + (runs.row[best] + 0.5) * runs.cell,
    runs.top[best] + gap,
  ];
}

interface Levels {
  readonly heights: Float64Array;
  /** Least width of the section at each level, mm; 0 where there is none. */
  readonly widths: Float64Array;
  /** Section modulus of the lowest level about its weak axis, mm³. */
  readonly footModulus: number;
}

/** Sections at even heights, from sums that runs add where they begin and take away where they end. */
function sectionsOf(runs: SupportRuns, members: Int32Array, bottom: number, top: number): Levels {
  const { cell, column, row } = runs;
  const count = Math.max(1, Math.round((top - bottom) / levelStep));
  const step = (top - bottom) / count;
  const sums = new Float64Array(6 * (count + 1));
  const column0 = column[members[0]];
  const row0 = row[members[0]];
  for (const i of members) {
    const from = Math.max(0, Math.ceil((runs.bottom[i] - bottom) / step - 0.5));
    const to = Math.min(count, Math.ceil((runs.top[i] - bottom) / step - 0.5));
    if (from >= to) continue;
    const x = column[i] - column0;
    const y = row[i] - row0;
    add(sums, from, x, y, 1);
    add(sums, to, x, y, -1);
  }
  const heights = new Float64Array(count);
  const widths = new Float64Array(count);
  let footModulus = 0;
  const [n, sx, sy, sxx, syy, sxy] = [0, 1, 2, 3, 4, 5];
  for (let level = 0; level < count; level++) {
    heights[level] = bottom + (level + 0.5) * step;
    const at = 6 * level;
    if (level > 0) for (let k = 0; k < 6; k++) sums[at + k] += sums[at - 6 + k];
    const cells = sums[at + n];
    if (cells < 0.5) continue;
    const mx = sums[at + sx] / cells;
    const my = sums[at + sy] / cells;
    // A cell is a square: a twelfth of its own.
    const xx = sums[at + sxx] / cells - mx * mx + 1 / 12;
    const yy = sums[at + syy] / cells - my * my + 1 / 12;
    const xy = sums[at + sxy] / cells - mx * my;
    const least = (xx + yy) / 2 - Math.hypot((xx - yy) / 2, xy);
    widths[level] = Math.sqrt(12 * Math.max(least, 1 / 12)) * cell;
    if (level === 0) footModulus = (cells * cell * cell * widths[0]) / 6;
  }
  return { heights, widths, footModulus };
}

function add(sums: Float64Array, level: number, x: number, y: number, sign: number): void {
  const at = 6 * level;
  sums[at] += sign;
  sums[at + 1] += sign * x;
  sums[at + 2] += sign * y;
  sums[at + 3] += sign * x * x;
  sums[at + 4] += sign * y * y;
  sums[at + 5] += sign * x * y;
}

/** The level at which what stands above is tallest for its width. */
function worstLevel({ heights, widths }: Levels, top: number): { slenderness: number; width: number } {
  let [slenderness, width] = [0, widths[0]];
  // A level stands for all between its neighbours: the lowest for the foot.
  const half = heights.length > 1 ? (heights[1] - heights[0]) / 2 : top - heights[0];
  for (let level = 0; level < heights.length; level++) {
    if (widths[level] === 0) continue;
    const ratio = (top - heights[level] + half) / widths[level];
    if (ratio > slenderness) [slenderness, width] = [ratio, widths[level]];
  }
  return { slenderness, width };
}
