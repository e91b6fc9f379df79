import type { TriangleMesh } from "../../../src/geometry/mesh";
import type { Vec3 } from "../../../src/geometry/vector";
import { meshOf, turned } from "../shapes";

/** Heads and pieces whose way on is known. */

const radians = (degrees: number): number => (degrees * Math.PI) / 180;

/** A shell round a sphere about the origin, from the pole down to a polar angle, degrees. */
export function capOf(radius: number, angle: number, thickness = 3, segments = 160): TriangleMesh {
  const steps = 60;
  const wall = (r: number, k: number): [number, number] => {
    const theta = (radians(angle) * k) / steps;
    return [k === 0 ? 0 : r * Math.sin(theta), r * Math.cos(theta)];
  };
  const inner = Array.from({ length: steps + 1 }, (_, k) => wall(radius, k));
  const outer = Array.from({ length: steps + 1 }, (_, k) => wall(radius + thickness, steps - k));
  return turned([...inner, ...outer], segments);
}

/** A tube of round section along a ring or an arc of an ellipse, level at height z; azimuths in degrees, 0 front. */
export function ellipseTube(
  [a, b]: readonly [number, number],
  [cx, cy, z]: Vec3,
  radius: number,
  [from, to]: readonly [number, number] = [0, 360],
): TriangleMesh {
  const closed = to - from >= 360;
  const steps = Math.max(8, Math.round((to - from) / 4));
  const path = Array.from({ length: closed ? steps : steps + 1 }, (_, i): [Vec3, Vec3] => {
    const azimuth = radians(from + ((to - from) * i) / steps);
    const out: Vec3 = [Math.sin(azimuth) / a, Math.cos(azimuth) / b, 0];
    const length = Math.hypot(...out);
    return [
      [cx + a * Math.sin(azimuth), cy + b * Math.cos(azimuth), z],
      [out[0] / length, out[1] / length, 0],
    ];
  });
  return tubeOf(path, () => radius, closed);
}

/** A tube through points, each with the direction that its section's first corner lies in; z is the second. */
function tubeOf(
  path: readonly (readonly [Vec3, Vec3])[],
  radiusAt: (share: number) => number,
  closed: boolean,
  second: (i: number) => Vec3 = () => [0, 0, 1],
  sides = 12,
): TriangleMesh {
  const points: Vec3[] = [];
  const triangles: number[][] = [];
  const rings = path.length;
  path.forEach(([centre, first], i) => {
    const r = radiusAt(rings > 1 ? i / (rings - 1) : 0);
    const other = second(i);
    for (let k = 0; k < sides; k++) {
      const turn = (2 * Math.PI * k) / sides;
      const [c, s] = [r * Math.cos(turn), r * Math.sin(turn)];
      points.push(
        [0, 1, 2].map((axis) => centre[axis] + c * first[axis] + s * other[axis]) as unknown as Vec3,
      );
    }
  });
  for (let i = 0; i + (closed ? 0 : 1) < rings; i++) {
    const next = (i + 1) % rings;
    for (let k = 0; k < sides; k++) {
      const [a, b] = [i * sides + k, i * sides + ((k + 1) % sides)];
      const [c, d] = [next * sides + k, next * sides + ((k + 1) % sides)];
      triangles.push([a, c, d], [a, d, b]);
    }
  }
  if (!closed) {
    const start = points.push(path[0][0]) - 1;
    const end = points.push(path[rings - 1][0]) - 1;
    for (let k = 0; k < sides; k++) {
      const l = (k + 1) % sides;
      triangles.push([start, k, l], [end, (rings - 1) * sides + l, (rings - 1) * sides + k]);
    }
  }
  return meshOf(points, triangles);
}

/** A bow: where the axis of its bend runs from side to side, and how far its middle line is from that, mm. */
export const bow = { y: 90, z: 0, radius: 90 } as const;

/** The middle of the bow, turned up and forward from its foot (degrees), and the directions across it. */
function onBow(turn: number): readonly [Vec3, Vec3] {
  const out: Vec3 = [0, -Math.cos(radians(turn)), Math.sin(radians(turn))];
  return [[0, bow.y + bow.radius * out[1], bow.z + bow.radius * out[2]], out];
}

/** A head like a bow that bends forward over the axis at its front; its radius swells at 60° up from the foot. */
export function bowHead(radius: number, swell: number): TriangleMesh {
  const turns = Array.from({ length: 101 }, (_, i) => -40 + 1.6 * i);
  const radiusAt = (share: number): number => {
    const from = -40 + 160 * share - 60;
    return radius + (swell - radius) * Math.exp(-0.5 * (from / 12) ** 2);
  };
  return tubeOf(turns.map(onBow), radiusAt, false, () => [-1, 0, 0], 120);
}

/** A ring round the foot of the bow, square to it, whose hole has a radius. */
export function bowRing(hole: number, thickness = 3): TriangleMesh {
  const [centre] = onBow(0);
  const points: Vec3[] = [];
  const triangles: number[][] = [];
  const [around, sides] = [120, 8];
  for (let i = 0; i < around; i++) {
    const u = (2 * Math.PI * i) / around;
    for (let j = 0; j < sides; j++) {
      const v = (2 * Math.PI * j) / sides;
      const r = hole + thickness + thickness * Math.cos(v);
      points.push([
        centre[0] + r * Math.cos(u),
        centre[1] + r * Math.sin(u),
        centre[2] + thickness * Math.sin(v),
      ]);
      const at = (k: number, l: number): number => (k % around) * sides + (l % sides);
      triangles.push([at(i, j), at(i + 1, j), at(i + 1, j + 1)], [at(i, j), at(i + 1, j + 1), at(i, j + 1)]);
    }
  }
  return meshOf(points, triangles);
}

/** How far a mesh reaches near a height, mm. */
export function extent({ positions }: TriangleMesh, z: number, within: number) {
  let [left, right, back, front] = [Infinity, -Infinity, Infinity, -Infinity];
  for (let i = 0; i < positions.length; i += 3) {
    if (Math.abs(positions[i + 2] - z) > within) continue;
    left = Math.min(left, positions[i]);
    right = Math.max(right, positions[i]);
    back = Math.min(back, positions[i + 1]);
    front = Math.max(front, positions[i + 1]);
  }
  return { left, right, back, front };
}
