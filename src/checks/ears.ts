import type { Part } from "../design/part";
import type { TriangleMesh } from "../geometry/mesh";
import { type SurfaceSamples, surfaceSamples } from "../geometry/surfaceSamples";
import { emptyPlace } from "../geometry/triangleTree";
import type { Vec3 } from "../geometry/vector";
import { inRegion } from "../head/regions";
import type { Limits } from "../wearLimits";
import { atPart, type Finding, partNotes, quoted } from "./finding";
import type { WornHead } from "./wornHead";
import type { WornPiece } from "./wornPiece";

/** What the piece does to one ear. */
export interface Ear {
  /** The ear as it is seen from its side, mm²; 0 where the head's mesh has none. */
  readonly area: number;
  /** Share of that which the piece hides, 0 to 1. */
  readonly covered: number;
  /** Parts that hide it, with their shares of the ear; the greatest first. */
  readonly coveredBy: readonly { readonly part: string; readonly share: number }[];
  /** Least gap between ear and piece, mm, negative where the piece enters; absent where it is more than 10 mm. */
  readonly gap?: number;
  /** The part there, and where it is. */
  readonly nearestPart?: string;
  readonly at?: Vec3;
}

/** *Can she hear?* */
export interface Ears {
  readonly left: Ear;
  readonly right: Ear;
  readonly findings: readonly Finding[];
}

/** What covers an ear stands no farther off it than this, mm; common practice, no source. */
const coverReach = 60;
/** Gaps are looked for as far as this, mm. */
const gapReach = 10;
/** What goes in deeper than this is in the skull, which the gap check tells, mm; an ear stands off about 20. */
const enteringReach = 12;
/** Distance between samples of an ear, mm. */
const earSpacing = 1;

/**
 * Answers *can she hear?* and whether an ear is pressed. The ear is what of the bare head's surface lies in the ear's
 * region and faces its side; a place of it is covered where the level ray to that side meets the piece within 60 mm.
 */
export function ears(piece: WornPiece, head: WornHead, limits: Limits): Ears {
  const left = earOf("left", piece, head);
  const right = earOf("right", piece, head);
  return {
    left: left.ear,
    right: right.ear,
    findings: [left, right].flatMap((found) => [
      ...coveredFinding(found, limits),
      ...pressedFinding(found, limits),
    ]),
  };
}

type EarSide = "left" | "right";

interface NearPart {
  readonly part: Part | undefined;
  /** mm, negative where it enters. */
  readonly gap: number;
  readonly at: Vec3;
}

interface FoundEar {
  readonly side: EarSide;
  readonly ear: Ear;
  /** The part that covers most first. */
  readonly covering: readonly Part[];
  /** A place that is covered. */
  readonly coveredAt?: Vec3;
  /** The least gap of each part near the ear, nearest first. */
  readonly near: readonly NearPart[];
}

function earOf(side: EarSide, piece: WornPiece, head: WornHead): FoundEar {
  const triangles = earTriangles(side, head);
  const surface = surfaceSamples(meshOfTriangles(head.bare.mesh, triangles), earSpacing);
  const { area, covered, byPart, at: coveredAt } = coverOf(side, piece, surface);
  const near = nearParts(piece, head, triangles, surface);
  const shares = [...byPart].sort((a, b) => b[1] - a[1]);
  const nearest = near[0];
  return {
    side,
    covering: shares.map(([part]) => part),
    ...(coveredAt && { coveredAt }),
    near,
    ear: {
      area,
      covered: area > 0 ? covered / area : 0,
      coveredBy: shares.map(([part, own]) => ({ part: part.name, share: own / area })),
      ...(nearest && { gap: nearest.gap, at: nearest.at }),
      ...(nearest?.part && { nearestPart: nearest.part.name }),
    },
  };
}

const outwardOf = (side: EarSide): number => (side === "right" ? 1 : -1);

/** Triangles of the bare head in the ear's region that face its side. */
function earTriangles(side: EarSide, head: WornHead): number[] {
  const { positions, triangles } = head.bare.mesh;
  const normals = head.bare.faceNormals;
  const outward = outwardOf(side);
  const region = side === "right" ? "rightEar" : "leftEar";
  const found: number[] = [];
  for (let t = 0; t < triangles.length; t += 3) {
    if (!(normals[t] * outward > 0)) continue;
    const [a, b, c] = [3 * triangles[t], 3 * triangles[t + 1], 3 * triangles[t + 2]];
    const x = (positions[a] + positions[b] + positions[c]) / 3;
    if (!(x * outward > 0)) continue;
    const y = (positions[a + 1] + positions[b + 1] + positions[c + 1]) / 3;
    const z = (positions[a + 2] + positions[b + 2] + positions[c + 2]) / 3;
    if (inRegion(region, head.directionOf([x, y, z]))) found.push(t / 3);
  }
  return found;
}

/** Some of a mesh's triangles as a mesh of their own. */
function meshOfTriangles({ positions, triangles }: TriangleMesh, list: readonly number[]): TriangleMesh {
  const known = new Map<number, number>();
  const points: number[] = [];
  const corners = new Uint32Array(3 * list.length);
  for (let i = 0; i < corners.length; i++) {
    const old = triangles[3 * list[Math.floor(i / 3)] + (i % 3)];
    let vertex = known.get(old);
    if (vertex === undefined) {
      vertex = known.size;
      known.set(old, vertex);
      points.push(positions[3 * old], positions[3 * old + 1], positions[3 * old + 2]);
    }
    corners[i] = vertex;
  }
  return { positions: Float32Array.from(points), triangles: corners };
}

interface EarCover {
  /** Seen from the side, mm². */
  readonly area: number;
  readonly covered: number;
  /** mm² by the part that comes first. */
  readonly byPart: ReadonlyMap<Part, number>;
  readonly at?: Vec3;
}

function coverOf(side: EarSide, piece: WornPiece, surface: SurfaceSamples): EarCover {
  const { count, positions, normals, areas } = surface;
  const outward = outwardOf(side);
  const byPart = new Map<Part, number>();
  const place = emptyPlace();
  let area = 0;
  let covered = 0;
  let at: Vec3 | undefined;
  for (let i = 0; i < count; i++) {
    const own = areas[i] * Math.max(0, outward * normals[3 * i]);
    area += own;
    const [x, y, z] = [positions[3 * i], positions[3 * i + 1], positions[3 * i + 2]];
    const far = piece.tree.firstHit(x, y, z, outward, 0, 0, coverReach);
    if (far < 0) continue;
    covered += own;
    at ??= [x + outward * far, y, z];
    // The nearest triangle to the place that was hit is the one that was hit.
    const { triangle } = piece.tree.nearest(x + outward * far, y, z, place, 0.01);
    const part = triangle < 0 ? undefined : piece.parts[piece.partOf(triangle)];
    if (part) byPart.set(part, (byPart.get(part) ?? 0) + own);
  }
  return { area, covered, byPart, ...(at && { at }) };
}

/** How near each part comes to the ear: its samples against the head, and the ear's samples against the piece. */
function nearParts(
  piece: WornPiece,
  head: WornHead,
  triangles: readonly number[],
  surface: SurfaceSamples,
): NearPart[] {
  const isEar = new Uint8Array(head.bare.mesh.triangles.length / 3);
  for (const triangle of triangles) isEar[triangle] = 1;
  const least = [Infinity, Infinity, Infinity];
  const most = [-Infinity, -Infinity, -Infinity];
  for (let i = 0; i < surface.positions.length; i++) {
    const axis = i % 3;
    least[axis] = Math.min(least[axis], surface.positions[i] - enteringReach);
    most[axis] = Math.max(most[axis], surface.positions[i] + enteringReach);
  }
  const found = new Map<Part | undefined, NearPart>();
  const put = (triangle: number, gap: number, at: Vec3): void => {
    const part = piece.parts[piece.partOf(triangle)] as Part | undefined;
    const known = found.get(part);
    if (!known || gap < known.gap) found.set(part, { part, gap, at });
  };
  const place = emptyPlace();
  const { samples } = piece;
  for (let i = 0; i < samples.count; i++) {
    const x = samples.positions[3 * i];
    if (!(x >= least[0] && x <= most[0])) continue;
    const y = samples.positions[3 * i + 1];
    if (!(y >= least[1] && y <= most[1])) continue;
    const z = samples.positions[3 * i + 2];
    if (!(z >= least[2] && z <= most[2])) continue;
    head.bare.nearest(x, y, z, place, enteringReach);
    if (place.triangle < 0 || isEar[place.triangle] === 0 || place.distance > gapReach) continue;
    put(samples.triangles[i], place.distance, [x, y, z]);
  }
  for (let i = 0; i < surface.count; i++) {
    const [x, y, z] = [surface.positions[3 * i], surface.positions[3 * i + 1], surface.positions[3 * i + 2]];
    piece.tree.nearest(x, y, z, place, gapReach);
    if (place.triangle >= 0) put(place.triangle, place.distance, [place.x, place.y, place.z]);
  }
  return [...found.values()].sort((a, b) => a.gap - b.gap);
}

function coveredFinding({ side, ear, covering, coveredAt }: FoundEar, limits: Limits): Finding[] {
  const limit = limits.earCovered;
  const share = 100 * ear.covered;
  if (share <= limit.value) return [];
  const names = covering.map(({ name }) => name);
  const who = names.length > 0 ? quoted(names) : "the piece";
  return [
    {
      id: "ear-covered",
      check: "sight",
      severity: "note",
      text: `${who} ${names.length > 1 ? "cover" : "covers"} ${Math.ceil(share)} % of the ${side} ear, more than ${limit.value} %: hearing is dulled`,
      suggestion: "leave the ear open, or pierce what lies over it",
      value: share,
      unit: "%",
      limit: { name: "earCovered", ...limit },
      ...(coveredAt && { at: coveredAt }),
      ...atPart(covering[0]),
    },
  ];
}

function pressedFinding({ side, near }: FoundEar, limits: Limits): Finding[] {
  const limit = limits.earPressed;
  const [worst, ...others] = near.filter(({ gap }) => gap < limit.value);
  if (!worst) return [];
  const who = worst.part ? `"${worst.part.name}"` : "the piece";
  const away = Math.ceil(limit.value - worst.gap);
  return [
    {
      id: "ear-pressed",
      check: "sight",
      severity: "warning",
      text:
        worst.gap < 0
          ? `${who} enters the ${side} ear by ${tenths(-worst.gap)} mm`
          : `${who} comes within ${tenths(worst.gap)} mm of the ${side} ear, nearer than ${limit.value} mm`,
      suggestion: `move it ${away} mm off the ear, or lead it over or behind it`,
      value: worst.gap,
      unit: "mm",
      limit: { name: "earPressed", ...limit },
      at: worst.at,
      ...atPart(worst.part),
      ...(others.length > 0 && {
        notes: partNotes(
          others.flatMap(({ part }) => part ?? []),
          (part) => `"${part.name}" presses the ${side} ear too`,
        ),
      }),
    },
  ];
}

const tenths = (value: number): string => String(Math.round(10 * value) / 10);
