import type { PartMesh } from "../../geometry/mesh";
import { TriangleTree } from "../../geometry/triangleTree";
import {
  addScaled,
  anyPerpendicular,
  cross,
  dot,
  normalize,
  subtract,
  type Vec2,
  type Vec3,
} from "../../geometry/vector";
import { socketWall, tipRoom } from "./keys";
import { inAxes, isWithin, type PlaneAxes, type SectionFace } from "./planeSection";

/** The place of a face that lies deepest within its outlines, and how deep, mm. */
export function deepest({ loops }: SectionFace): { at: Vec2; depth: number } {
  const outlines = loops.map(({ points }) => points);
  const [least, most] = [
    [Infinity, Infinity],
    [-Infinity, -Infinity],
  ];
  for (const p of outlines[0]) {
    for (const axis of [0, 1] as const) {
      least[axis] = Math.min(least[axis], p[axis]);
      most[axis] = Math.max(most[axis], p[axis]);
    }
  }
  const depthAt = (p: Vec2): number => {
    const inside = outlines.reduce((odd, outline) => odd !== isWithin(p, outline), false);
    const away = outlines.reduce((near, outline) => Math.min(near, distanceTo(p, outline)), Infinity);
    return inside ? away : -away;
  };
  let best: { at: Vec2; depth: number } = { at: outlines[0][0], depth: -Infinity };
  let middle: Vec2 = [(least[0] + most[0]) / 2, (least[1] + most[1]) / 2];
  let half: Vec2 = [(most[0] - least[0]) / 2, (most[1] - least[1]) / 2];
  // A grid, and finer ones about the best of it.
  for (let round = 0; round < 4; round++) {
    const n = round === 0 ? 12 : 4;
    for (let i = -n; i <= n; i++) {
      for (let j = -n; j <= n; j++) {
        const at: Vec2 = [middle[0] + (i / n) * half[0], middle[1] + (j / n) * half[1]];
        const depth = depthAt(at);
        if (depth > best.depth) best = { at, depth };
      }
    }
    middle = best.at;
    half = [half[0] / (0.8 * n), half[1] / (0.8 * n)];
  }
  return best;
}

function distanceTo([x, y]: Vec2, points: readonly Vec2[]): number {
  let least = Infinity;
  for (let i = 0, j = points.length - 1; i < points.length; j = i++) {
    const [ax, ay] = points[j];
    const [dx, dy] = [points[i][0] - ax, points[i][1] - ay];
    const l2 = dx * dx + dy * dy;
    const k = l2 > 0 ? Math.max(0, Math.min(1, ((x - ax) * dx + (y - ay) * dy) / l2)) : 0;
    least = Math.min(least, Math.hypot(x - ax - k * dx, y - ay - k * dy));
  }
  return least;
}

/** Where a pin goes: its axis from the peg's piece into the socket's, and an axis of its section. */
export interface PinFrame {
  readonly origin: Vec3;
  readonly x: Vec3;
  readonly y: Vec3;
  /** Unit vector along the pin. */
  readonly z: Vec3;
}

/** The frame of a pin at a face, along `direction`; its x as near as may be to the face's longest way. */
export function pinFrame(face: SectionFace, axes: PlaneAxes, at: Vec2, direction: Vec3): PinFrame {
  const origin = inAxes(axes, at);
  const along: Vec3 = subtract(inAxes(axes, longestWay(face)), inAxes(axes, [0, 0]));
  const x = normalize(addScaled(along, direction, -dot(along, direction)), anyPerpendicular(direction));
  return { origin, x, y: cross(direction, x), z: direction };
}

/** The direction in which an outline has most spread: the main axis of its second moments. */
function longestWay({ loops }: SectionFace): Vec2 {
  const points = loops[0].points;
  const mean = points.reduce((m, p) => [m[0] + p[0] / points.length, m[1] + p[1] / points.length], [0, 0]);
  let [xx, xy, yy] = [0, 0, 0];
  for (const p of points) {
    const [x, y] = [p[0] - mean[0], p[1] - mean[1]];
    xx += x * x;
    xy += x * y;
    yy += y * y;
  }
  const angle = Math.atan2(2 * xy, xx - yy) / 2;
  return [Math.cos(angle), Math.sin(angle)];
}

const rays = 24;
const longest = 14 + tipRoom + socketWall;
/** The peg's own piece must hold it for so far behind the face, mm. */
const rootDepth = 1.5;

/**
 * The radius that a socket with its wall has round a pin's axis, mm, for each depth: by rays from the axis to the surface,
 * a millimetre apart.
 */
export function roomRound(
  socket: TriangleTree,
  peg: TriangleTree,
  frame: PinFrame,
): (depth: number) => number {
  const radius: number[] = [];
  const at = (tree: TriangleTree, height: number): number => {
    const p = addScaled(frame.origin, frame.z, height);
    let least = Infinity;
    for (let k = 0; k < rays; k++) {
      const [c, s] = [Math.cos((2 * Math.PI * k) / rays), Math.sin((2 * Math.PI * k) / rays)];
      const d: Vec3 = [0, 1, 2].map((axis) => c * frame.x[axis] + s * frame.y[axis]) as unknown as Vec3;
      const hit = tree.firstHit(...p, ...d, Math.min(least, 20), 1e-4);
      if (hit >= 0) least = Math.min(least, hit);
    }
    return least;
  };
  const up = socket.firstHit(...addScaled(frame.origin, frame.z, 0.05), ...frame.z, longest + 1, 1e-3);
  const end = up < 0 ? longest : up;
  const behind = Math.min(at(peg, -rootDepth / 3), at(peg, -rootDepth)) - 0.4;
  let least = behind + socketWall;
  for (let depth = 1; depth <= longest; depth++) {
    if (depth < end) least = Math.min(least, at(socket, depth - 0.5), at(socket, depth));
    else least = 0;
    radius.push(least);
  }
  return (depth) => radius[Math.min(radius.length - 1, Math.max(0, Math.ceil(depth) - 1))];
}

/** The triangles of a body within some distance of a place, save those of one part: all that a pin there can meet. */
export function around(mesh: PartMesh, at: Vec3, reach: number, without: number): TriangleTree {
  const { positions: p, triangles: t, partOfTriangle } = mesh;
  const near: number[] = [];
  for (let i = 0; i < t.length; i += 3) {
    let isNear = partOfTriangle[i / 3] !== without;
    for (let axis = 0; axis < 3 && isNear; axis++) {
      const [a, b, c] = [p[3 * t[i] + axis], p[3 * t[i + 1] + axis], p[3 * t[i + 2] + axis]];
      isNear = Math.min(a, b, c) <= at[axis] + reach && Math.max(a, b, c) >= at[axis] - reach;
    }
    if (isNear) near.push(t[i], t[i + 1], t[i + 2]);
  }
  return new TriangleTree({ positions: p, triangles: Uint32Array.from(near) });
}
