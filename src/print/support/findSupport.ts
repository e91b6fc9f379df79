import type { PrintSettings } from "../../printSettings";
import type { PlacedPiece } from "../placedPiece";
import { whatBegins } from "./beginnings";
import { type ColumnRaster, columnRaster } from "./columnRaster";
import { type ColumnLimits, defaultColumnLimits } from "./columnRisk";
import { type HeldUndersides, heldUndersides, verticalCosine } from "./heldUndersides";
import { isCarried, leastSink, sinkOf } from "./rasterSteps";
import { raiseSlivers } from "./slivers";
import type { Support, SupportRuns } from "./support";
import { groupRuns, supportColumns } from "./supportColumns";

/** What of the print settings supports depend on. */
export type SupportSettings = Pick<
  PrintSettings,
  "layerHeight" | "supportShare" | "overhangAngle" | "supportGap"
>;

export interface SupportOptions {
  /** Side of a cell, mm; 0.5, for a rough answer 1 to 1.5. */
  readonly cell?: number;
  /** Whether something else than a support (a prop) holds up the surface at a place of the plate's frame, mm. */
  readonly isHeld?: (x: number, y: number, z: number) => boolean;
  readonly limits?: ColumnLimits;
}

export const defaultSupportCell = 0.5;

/** A column that stands on no more than this is a crumb, mm². Common practice, no source: about two lines square. */
const crumb = 1;
/** An edge that sinks by less a mm is level. */
const level = 0.02;
/** A surface at least counts as so steep when the area over a cell is asked for. */
const leastCosine = 0.02;

/**
 * What must be held up while a piece is printed, and by what: over each cell of a grid an upright run under every
 * underside that `heldUndersides` finds, down to the piece below it or to the plate, with the support gap to the piece at
 * both ends. Runs lower than a layer are left out. With a support share of 0 nothing is held up.
 * @throws RangeError when the mesh is empty or not finite, a setting or the cell is out of range.
 */
export function findSupport(
  placed: Pick<PlacedPiece, "mesh">,
  settings: SupportSettings,
  options: SupportOptions = {},
): Support {
  const { cell = defaultSupportCell, isHeld, limits = defaultColumnLimits } = options;
  checkSettings(settings);
  const raster = columnRaster(placed.mesh, cell);
  if (settings.supportShare === 0) return noSupport(raster);
  const held = heldUndersides(placed.mesh, raster, {
    overhangAngle: settings.overhangAngle,
    floor: settings.layerHeight,
    isHeld,
  });
  const { intervals, ...runs } = runsUnder(placed.mesh, raster, held, settings);
  const thin = raiseSlivers(runs);
  const cellOf = (run: number): number => runs.row[run] * runs.columns + runs.column[run];
  const sinks = leastSink(cell, settings.overhangAngle);
  const needless: Needless = {
    isCarried: (run) =>
      isCarried(raster, cellOf(run), intervals[run], sinks, sinkOf(cell, runs.steepness[run])),
    thoseThatBegin: (some) => {
      const candidates = some.flatMap((run) => [cellOf(run), intervals[run]]);
      const begin = new Set(
        whatBegins(placed.mesh, raster, candidates, held.leans, level, settings.layerHeight),
      );
      return some.filter((run) => begin.has(intervals[run]));
    },
  };
  return supportOf(withoutCrumbs(runs, thin, needless), settings.supportGap, limits);
}

/**
 * A support made of some of its runs, with all its figures: what is left where props hold up the rest.
 * @param keep Whether a run, by its index, stays.
 */
export function supportOfRuns(
  support: Support,
  keep: (run: number) => boolean,
  settings: Pick<PrintSettings, "supportGap">,
  limits: ColumnLimits = defaultColumnLimits,
): Support {
  const { runs } = support;
  const isKept = new Uint8Array(runs.count);
  for (let i = 0; i < runs.count; i++) if (keep(i)) isKept[i] = 1;
  return supportOf(grouped(picked(runs, indicesOf(isKept))), settings.supportGap, limits);
}

const grouped = (runs: UngroupedRuns): SupportRuns => ({ ...runs, group: groupRuns(runs).group });

/** Some of the runs, by their indices. */
function picked(runs: UngroupedRuns, kept: Int32Array): UngroupedRuns {
  return {
    ...runs,
    count: kept.length,
    column: pick(runs.column, kept),
    row: pick(runs.row, kept),
    bottom: pick(runs.bottom, kept),
    top: pick(runs.top, kept),
    part: pick(runs.part, kept),
    onPlate: pick(runs.onPlate, kept),
    steepness: pick(runs.steepness, kept),
    landing: pick(runs.landing, kept),
  };
}

function indicesOf(isKept: Uint8Array): Int32Array {
  const kept = new Int32Array(isKept.length);
  let count = 0;
  for (let i = 0; i < isKept.length; i++) if (isKept[i]) kept[count++] = i;
  return kept.subarray(0, count);
}

function pick<Values extends Int32Array | Float32Array | Uint8Array>(
  values: Values,
  kept: Int32Array,
): Values {
  const some = values.slice(0, kept.length) as Values;
  for (let i = 0; i < kept.length; i++) some[i] = values[kept[i]];
  return some;
}

/** What tells whether a run may be left out. */
interface Needless {
  readonly isCarried: (run: number) => boolean;
  readonly thoseThatBegin: (runs: readonly number[]) => readonly number[];
}

/**
 * Leaves out what is too thin to print and need not be: runs within no square of 1 mm where the surface beside carries
 * what they would hold, and what stands alone on no more than 1 mm² where no surface begins.
 */
function withoutCrumbs(
  runs: UngroupedRuns,
  thin: readonly number[],
  { isCarried, thoseThatBegin }: Needless,
): SupportRuns {
  const isLeft = new Uint8Array(runs.count).fill(1);
  for (const i of thin) if (isCarried(i)) isLeft[i] = 0;
  const left = indicesOf(isLeft);
  const rest = left.length < runs.count ? picked(runs, left) : runs;
  const { group, groups } = groupRuns(rest);
  const area = new Float64Array(groups);
  const lowest = new Int32Array(groups).fill(-1);
  for (let i = 0; i < rest.count; i++) {
    const g = group[i];
    area[g] += runs.cell * runs.cell;
    if (lowest[g] < 0 || rest.top[i] < rest.top[lowest[g]]) lowest[g] = i;
  }
  // Where cells are large, one of them.
  const most = Math.max(crumb, runs.cell * runs.cell) + 1e-9;
  const small: number[] = [];
  for (let g = 0; g < groups; g++) if (area[g] <= most) small.push(left[lowest[g]]);
  if (small.length === 0) return { ...rest, group };
  const begin = new Set(thoseThatBegin(small));
  // What goes are whole groups: the others keep their order.
  const numberOf = new Int32Array(groups).fill(-1);
  let numbers = 0;
  for (let g = 0; g < groups; g++) {
    if (area[g] > most || begin.has(left[lowest[g]])) numberOf[g] = numbers++;
  }
  const stays = new Uint8Array(rest.count);
  for (let i = 0; i < rest.count; i++) if (numberOf[group[i]] >= 0) stays[i] = 1;
  const staying = indicesOf(stays);
  return { ...picked(rest, staying), group: pick(group, staying).map((g) => numberOf[g]) };
}

function checkSettings({ layerHeight, supportShare, overhangAngle, supportGap }: SupportSettings): void {
  const check = (name: string, value: number, isRight: boolean, right: string): void => {
    if (!isRight) throw new RangeError(`${name} is ${value}: it must be ${right}`);
  };
  check("layerHeight", layerHeight, layerHeight > 0 && layerHeight < Infinity, "above 0");
  check("supportShare", supportShare, supportShare >= 0 && supportShare <= 100, "from 0 to 100");
  check("overhangAngle", overhangAngle, overhangAngle >= 0 && overhangAngle <= 90, "from 0 to 90");
  check("supportGap", supportGap, supportGap >= 0 && supportGap < Infinity, "0 or more");
}

type UngroupedRuns = Omit<SupportRuns, "group">;

function runsUnder(
  { positions, triangles, partOfTriangle }: PlacedPiece["mesh"],
  raster: ColumnRaster,
  held: HeldUndersides,
  { layerHeight, supportGap }: SupportSettings,
): UngroupedRuns & { intervals: Int32Array } {
  const { cell, origin, columns, rows, first, low, high, lowTriangle, highTriangle } = raster;
  const most = held.intervals.length;
  const column = new Int32Array(most);
  const row = new Int32Array(most);
  const bottom = new Float32Array(most);
  const top = new Float32Array(most);
  const part = new Int32Array(most);
  const onPlate = new Uint8Array(most);
  const steepness = new Float32Array(most);
  const landing = new Float32Array(most);
  const intervals = new Int32Array(most);
  let count = 0;
  for (let k = 0; k < most; k++) {
    const i = held.intervals[k];
    const at = held.cells[k];
    const isOnPlate = i === first[at];
    const from = isOnPlate ? 0 : high[i - 1] + supportGap;
    const to = low[i] - supportGap;
    if (to - from < layerHeight) continue;
    intervals[count] = i;
    column[count] = at % columns;
    row[count] = (at - column[count]) / columns;
    bottom[count] = from;
    top[count] = to;
    part[count] = partOfTriangle[lowTriangle[i]];
    onPlate[count] = isOnPlate ? 1 : 0;
    steepness[count] = Math.max(leastCosine, held.steepness[k]);
    landing[count] = isOnPlate
      ? 0
      : Math.max(leastCosine, Math.abs(verticalCosine(positions, triangles, highTriangle[i - 1])));
    count++;
  }
  return {
    count,
    cell,
    origin,
    columns,
    rows,
    column: column.slice(0, count),
    row: row.slice(0, count),
    bottom: bottom.slice(0, count),
    top: top.slice(0, count),
    part: part.slice(0, count),
    onPlate: onPlate.slice(0, count),
    steepness: steepness.slice(0, count),
    landing: landing.slice(0, count),
    intervals: intervals.slice(0, count),
  };
}

function supportOf(runs: SupportRuns, gap: number, limits: ColumnLimits): Support {
  const area = runs.cell * runs.cell;
  const byPart = new Map<number, { volume: number; contactArea: number; columns: number }>();
  let [volume, contactArea, landingArea] = [0, 0, 0];
  for (let i = 0; i < runs.count; i++) {
    const own = (runs.top[i] - runs.bottom[i]) * area;
    const touched = area / runs.steepness[i];
    volume += own;
    contactArea += touched;
    if (runs.landing[i] > 0) landingArea += area / runs.landing[i];
    const sum = byPart.get(runs.part[i]);
    if (sum) {
      sum.volume += own;
      sum.contactArea += touched;
    } else byPart.set(runs.part[i], { volume: own, contactArea: touched, columns: 0 });
  }
  const columns = supportColumns(runs, gap, limits);
  for (const { parts } of columns) {
    for (const part of parts) {
      const sum = byPart.get(part);
      if (sum) sum.columns++;
    }
  }
  return {
    runs,
    columns,
    volume,
    contactArea,
    landingArea,
    byPart: [...byPart]
      .map(([part, sum]) => ({ part, ...sum }))
      .sort((a, b) => b.volume - a.volume || a.part - b.part),
  };
}

function noSupport({ cell, origin, columns, rows }: ColumnRaster): Support {
  const none = new Int32Array(0);
  const empty = new Float32Array(0);
  const runs = { count: 0, cell, origin, columns, rows, column: none, row: none, part: none };
  const onPlate = new Uint8Array(0);
  return supportOf(
    { ...runs, bottom: empty, top: empty, steepness: empty, landing: empty, onPlate, group: none },
    0,
    defaultColumnLimits,
  );
}
