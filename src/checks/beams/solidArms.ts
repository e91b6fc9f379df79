import type { TriangleMesh } from "../../geometry/mesh";
import {
  addScaled,
  anyPerpendicular,
  cross,
  distance,
  normalize,
  subtract,
  type Vec3,
} from "../../geometry/vector";
import type { WornPiece } from "../wornPiece";
import { segmentMoments } from "./sectionStiffness";
import type { Limb, Skeleton } from "./skeleton";
import type { LinePlace } from "./tubeLine";
import { type ArmSection, type ArmShape, armSection } from "./worstSection";

/** Stations at which a body that is no tube is cut across. */
const stations = 24;

/**
 * A body that is no tube and stands on the rest by one end: cut across, square to the line from its root to its farthest
 * place, each cut a section. Undefined for one that hangs in several places or is no longer than it is wide.
 */
export function solidArm(skeleton: Skeleton, piece: WornPiece, limb: Limb): ArmShape | undefined {
  const part = piece.parts[limb.part];
  if (part.kind !== "solid" || skeleton.seated[limb.first]) return undefined;
  const { seams, positions: p, mass } = skeleton;
  if (mass[limb.first] > mass.reduce((sum, own) => sum + own, 0) / 2) return undefined;
  const least = [Infinity, Infinity, Infinity];
  const most = [-Infinity, -Infinity, -Infinity];
  for (const i of skeleton.entriesOf[limb.part]) {
    for (let axis = 0; axis < 3; axis++) {
      const value = p[3 * seams.vertices[i] + axis];
      least[axis] = Math.min(least[axis], value);
      most[axis] = Math.max(most[axis], value);
    }
  }
  if (!(most[0] >= least[0])) return undefined;
  const root = [0, 1, 2].map((axis) => (least[axis] + most[axis]) / 2) as unknown as Vec3;
  const tip = farthestVertex(part.mesh.positions, root);
  const length = distance(tip, root);
  const breadth = Math.hypot(most[0] - least[0], most[1] - least[1], most[2] - least[2]);
  if (!(length > breadth) || length < 1e-6) return undefined;
  const tangent = normalize(subtract(tip, root));
  const x = anyPerpendicular(tangent);
  const y = cross(tangent, x);
  const sections: ArmSection[] = [];
  for (let i = 0; i < stations; i++) {
    const point = addScaled(root, tangent, (length * i) / stations);
    const moments = segmentMoments(sliceOf(part.mesh, point, tangent, x, y));
    if (!moments) continue;
    const place = { position: (length * i) / stations, point, tangent, x, y, radius: 1 };
    const section = armSection(place, moments, tip);
    if (section) sections.push(section);
  }
  const fromRoot = (place: LinePlace): number => place.position;
  return { part: part.name, index: limb.part, rootAt: root, length, fromRoot, sections };
}

function farthestVertex(positions: Float32Array, from: Vec3): Vec3 {
  let best = -1;
  let tip = from;
  for (let i = 0; i < positions.length; i += 3) {
    const d =
      (positions[i] - from[0]) ** 2 + (positions[i + 1] - from[1]) ** 2 + (positions[i + 2] - from[2]) ** 2;
    if (d <= best) continue;
    best = d;
    tip = [positions[i], positions[i + 1], positions[i + 2]];
  }
  return tip;
}

/** The cut of a closed mesh with a plane, as directed segments with the inside on their left, by the axes x and y. */
function sliceOf(
  { positions: p, triangles }: TriangleMesh,
  point: Vec3,
  normal: Vec3,
  x: Vec3,
  y: Vec3,
): number[] {
  const segments: number[] = [];
  const height = (v: number): number =>
    (p[v] - point[0]) * normal[0] + (p[v + 1] - point[1]) * normal[1] + (p[v + 2] - point[2]) * normal[2];
  for (let t = 0; t < triangles.length; t += 3) {
    const corners = [3 * triangles[t], 3 * triangles[t + 1], 3 * triangles[t + 2]];
    const heights = corners.map(height);
    // Corners on the plane count as above it, so that every crossing is met once.
    if (heights.every((h) => h >= 0) || heights.every((h) => h < 0)) continue;
    let rising: readonly [number, number] = [0, 0];
    let falling: readonly [number, number] = [0, 0];
    for (let k = 0; k < 3; k++) {
      const [a, b] = [corners[k], corners[(k + 1) % 3]];
      const [ha, hb] = [heights[k], heights[(k + 1) % 3]];
      if (ha >= 0 === hb >= 0) continue;
      const share = ha / (ha - hb);
      const q = [0, 1, 2].map((axis) => p[a + axis] + share * (p[b + axis] - p[a + axis]) - point[axis]);
      const crossing = [
        q[0] * x[0] + q[1] * x[1] + q[2] * x[2],
        q[0] * y[0] + q[1] * y[1] + q[2] * y[2],
      ] as const;
      if (hb >= 0) rising = crossing;
      else falling = crossing;
    }
    // Seen from outside the edges run against the clock: the one that rises is on the right, towards which the cut runs
    // with its inside on the left.
    segments.push(falling[0], falling[1], rising[0], rising[1]);
  }
  return segments;
}
