import type { Vec3 } from "../geometry/vector";
import type { Limits } from "../wearLimits";
import { atPart, type Finding } from "./finding";
import { type GirthPlay, girthPlay } from "./fit/girthPlay";
import { type InnerSurface, innerSurface } from "./fit/innerSurface";
import { weightedPercentiles } from "./fit/percentiles";
import { type HeadSide, headSides, type WornHead } from "./wornHead";
import type { WornPiece } from "./wornPiece";

/** How far the inner surface lies off one of the heads, mm; negative inside it. */
export interface GapFigures {
  readonly least: number;
  readonly p5: number;
  readonly median: number;
  readonly p95: number;
}

/** The gap on one side of the head. */
export interface SideGap {
  readonly side: HeadSide;
  /** Inner surface on that side, mm². */
  readonly area: number;
  /** Least and median to the head with its hair, mm. */
  readonly least: number;
  readonly median: number;
  /** Share of it that rests, 0 to 1. */
  readonly resting: number;
}

/** Where a part enters the bare head. */
export interface Entering {
  readonly part: string;
  /** mm */
  readonly depth: number;
  readonly at: Vec3;
  readonly side: HeadSide;
}

/** *Does it fit her?* */
export interface Gap {
  /** Inner surface: what faces the head, near it, with nothing of the piece between; mm². */
  readonly innerArea: number;
  /** To the bare head, to the head with its hair, and to that grown by the ease; absent without inner surface. */
  readonly bare?: GapFigures;
  readonly haired?: GapFigures;
  readonly grown?: GapFigures;
  /** Share of the inner surface that rests on the grown head, to which it is hollowed: no farther than `restingGap`. */
  readonly resting: number;
  readonly sides: readonly SideGap[];
  /** Parts that enter the bare head, deepest first. */
  readonly entering: readonly Entering[];
  readonly play?: GirthPlay;
  readonly findings: readonly Finding[];
}

/**
 * Answers *does it fit her?*: distances from the piece's inner surface to the bare head, to the head with its hair and
 * to the grown head, mm, by area; where it rests; where it enters; the play of its girth.
 */
export function gap(
  piece: WornPiece,
  head: WornHead,
  limits: Limits,
  inner: InnerSurface = innerSurface(piece, head),
): Gap {
  const { restingGap } = limits;
  const entering = enteringParts(piece, head, inner);
  const play = girthPlay(piece, head, inner);
  const figures = (values: Float32Array): GapFigures | undefined => {
    if (inner.count === 0) return undefined;
    const [p5, median, p95] = weightedPercentiles(values, inner.areas, [0.05, 0.5, 0.95]);
    return { least: values.reduce((a, b) => Math.min(a, b), Infinity), p5, median, p95 };
  };
  const bare = figures(inner.bare);
  const haired = figures(inner.haired);
  const grown = figures(inner.grown);
  const innerArea = inner.areas.reduce((sum, area) => sum + area, 0);
  const resting = innerArea > 0 ? areaWithin(inner, restingGap.value) / innerArea : 0;
  const answer = {
    innerArea,
    ...(bare && { bare }),
    ...(haired && { haired }),
    ...(grown && { grown }),
    resting,
    sides: sidesOf(piece, head, inner, restingGap.value),
    entering,
    ...(play && { play }),
  };
  return { ...answer, findings: findingsOf(answer, piece, limits) };
}

function areaWithin({ count, grown, areas }: InnerSurface, most: number): number {
  let area = 0;
  for (let i = 0; i < count; i++) if (grown[i] <= most) area += areas[i];
  return area;
}

function sidesOf(piece: WornPiece, head: WornHead, inner: InnerSurface, restingGap: number): SideGap[] {
  const { positions } = piece.samples;
  const sideOf = new Uint8Array(inner.count);
  const counts = new Uint32Array(headSides.length);
  for (let i = 0; i < inner.count; i++) {
    const at = 3 * inner.samples[i];
    const side = head.sideOf([positions[at], positions[at + 1], positions[at + 2]]);
    sideOf[i] = headSides.indexOf(side);
    counts[sideOf[i]]++;
  }
  return headSides.flatMap((side, own) => {
    if (counts[own] === 0) return [];
    const values = new Float32Array(counts[own]);
    const areas = new Float32Array(counts[own]);
    let [next, area, rests, least] = [0, 0, 0, Infinity];
    for (let i = 0; i < inner.count; i++) {
      if (sideOf[i] !== own) continue;
      values[next] = inner.haired[i];
      areas[next++] = inner.areas[i];
      area += inner.areas[i];
      if (inner.grown[i] <= restingGap) rests += inner.areas[i];
      if (inner.haired[i] < least) least = inner.haired[i];
    }
    const [median] = weightedPercentiles(values, areas, [0.5]);
    return [{ side, area, least, median, resting: area > 0 ? rests / area : 0 }];
  });
}

/** The deepest place of each part inside the bare head. */
function enteringParts(piece: WornPiece, head: WornHead, inner: InnerSurface): Entering[] {
  const { positions, triangles } = piece.samples;
  const deepest = new Map<number, { depth: number; sample: number }>();
  for (let i = 0; i < inner.insideCount; i++) {
    const sample = inner.inside[i];
    const part = piece.partOf(triangles[sample]);
    const depth = inner.insideDepth[i];
    if (depth > (deepest.get(part)?.depth ?? 0)) deepest.set(part, { depth, sample });
  }
  return [...deepest]
    .map(([part, { depth, sample }]): Entering => {
      const at: Vec3 = [positions[3 * sample], positions[3 * sample + 1], positions[3 * sample + 2]];
      return { part: piece.parts[part]?.name ?? "", depth, at, side: head.sideOf(at) };
    })
    .sort((a, b) => b.depth - a.depth);
}

/** Sides as a sentence has them. */
export const sideWords: Readonly<Record<HeadSide, string>> = {
  front: "in front",
  left: "on the left",
  right: "on the right",
  back: "at the back",
  crown: "on the crown",
};

function findingsOf(found: Omit<Gap, "findings">, piece: WornPiece, limits: Limits): Finding[] {
  const findings: Finding[] = [];
  const partNamed = (name: string) => piece.parts.find((part) => part.name === name);
  for (const { part, depth, at, side } of found.entering) {
    if (depth <= limits.entering.value) continue;
    const isDeep = depth > limits.enteringMost.value;
    const limit = isDeep ? ("enteringMost" as const) : ("entering" as const);
    findings.push({
      id: "enters-head",
      check: "gap",
      severity: isDeep ? "error" : "warning",
      text: `"${part}" enters the bare head by ${depth.toFixed(1)} mm ${sideWords[side]}`,
      suggestion: `lift it by ${Math.ceil(depth)} mm there, or give the piece more ease`,
      value: depth,
      unit: "mm",
      limit: { name: limit, ...limits[limit] },
      at,
      ...atPart(partNamed(part)),
    });
  }
  const { play } = found;
  if (play) {
    const ring = atPart(partNamed(play.part));
    const steps = Math.abs(play.hatSizes).toFixed(1);
    const common = {
      check: "gap",
      severity: "warning",
      value: play.girth,
      unit: "mm",
      at: play.at,
      ...ring,
    } as const;
    if (play.girth < limits.girthPlayLeast.value) {
      findings.push({
        ...common,
        id: "tight-girth",
        text: `it is tight: ${(-play.girth).toFixed(1)} mm of girth are missing, ${steps} hat sizes`,
        suggestion: `give ${Math.ceil(limits.girthPlayLeast.value - play.girth)} mm more girth ease`,
        limit: { name: "girthPlayLeast", ...limits.girthPlayLeast },
      });
    } else if (play.girth > limits.girthPlayMost.value) {
      findings.push({
        ...common,
        id: "loose-girth",
        text: `it is loose: ${play.girth.toFixed(1)} mm of girth play, ${steps} hat sizes`,
        suggestion: "lower it on to the head, take ease away, or pad it",
        limit: { name: "girthPlayMost", ...limits.girthPlayMost },
      });
    }
  }
  if (found.innerArea === 0) {
    findings.push({
      id: "off-the-head",
      check: "gap",
      severity: "warning",
      text: "nothing of the piece lies near the head",
      suggestion: "let some part run along the head: a band, or a path with alongHead(…)",
      value: 0,
      unit: "mm²",
    });
  }
  return findings;
}
