import type { WayOff } from "../protocol";
import { type Box, centreOf, cornersOf } from "./bounds";
import { turnAbout } from "./rigidMotion";
import { along, dot, minus, unit, type Vector } from "./vector";

/** Measures of the arrow, mm. */
export const arrowSize = { length: 56, gap: 10, shaft: 2.4, head: 7, headLength: 19 } as const;

/** Points along the arrow's middle. */
const steps = 24;

/** Sides of its shaft. */
const sides = 20;

/**
 * The middle of an arrow that shows the way on, from its tail to its tip: outside the box of the piece, where it comes
 * from, and along the way that it goes.
 */
export function arrowPath(way: WayOff, box: Box): Vector[] {
  const shares = Array.from({ length: steps + 1 }, (_, i) => i / steps);
  const middle = centreOf(box);
  const { length, gap, head } = arrowSize;
  if (way.kind === "slide") {
    const direction = unit(way.direction);
    const reach = direction.reduce(
      (sum, d, axis) => sum + (Math.abs(d) * (box.most[axis] - box.least[axis])) / 2,
      0,
    );
    return shares.map((share) => along(middle, direction, reach + gap + (1 - share) * length));
  }
  const axis = unit(way.axis);
  const across = (point: Vector): Vector => {
    const from = minus(point, way.origin);
    return minus(from, along([0, 0, 0], axis, dot(from, axis)));
  };
  const corners = cornersOf(box);
  let reach = 0;
  for (let i = 0; i < corners.length; i += 3) {
    reach = Math.max(reach, Math.hypot(...across([corners[i], corners[i + 1], corners[i + 2]])));
  }
  const radius = reach + gap + head;
  const out = across(middle);
  const towards = Math.hypot(...out) > 1 ? unit(out) : anyAcross(axis);
  const foot = along(way.origin, axis, dot(minus(middle, way.origin), axis));
  // It comes down to the seat: backwards about the axis.
  const sense = way.degrees < 0 ? -1 : 1;
  return shares.map((share) =>
    along(foot, turnAbout(axis, (sense * (1 - share) * length) / radius)(towards), radius),
  );
}

/** The arrow as a closed mesh, with a normal at each vertex. */
export interface ArrowMesh {
  readonly positions: Float32Array;
  readonly normals: Float32Array;
  readonly triangles: Uint32Array;
}

/** A round shaft along a path, and a cone at its end. */
export function arrowMesh(path: readonly Vector[]): ArrowMesh {
  const { shaft, head, headLength, length } = arrowSize;
  const positions: number[] = [];
  const normals: number[] = [];
  const triangles: number[] = [];
  const neck = Math.max(1, Math.round((1 - headLength / length) * (path.length - 1)));
  let side: Vector | undefined;

  /** A ring of vertices about a point of the path; its number. `slope`: how far the normal leans on. */
  const ring = (at: number, radius: number, slope: number): number => {
    const tangent = unit(minus(path[Math.min(path.length - 1, at + 1)], path[Math.max(0, at - 1)]));
    // Each ring keeps the direction of the one before, so that the shaft does not wring.
    const kept = side ?? anyAcross(tangent);
    const u = unit(along(kept, tangent, -dot(kept, tangent)));
    side = u;
    const turned = (angle: number) => turnAbout(tangent, angle)(u);
    for (let i = 0; i < sides; i++) {
      const out = turned((2 * Math.PI * i) / sides);
      positions.push(...along(path[at], out, radius));
      normals.push(...unit(along(out, tangent, slope)));
    }
    return positions.length / (3 * sides) - 1;
  };
  const join = (from: number, to: number) => {
    for (let i = 0; i < sides; i++) {
      const [a, b] = [from * sides + i, from * sides + ((i + 1) % sides)];
      const [c, d] = [to * sides + i, to * sides + ((i + 1) % sides)];
      triangles.push(a, b, d, a, d, c);
    }
  };

  const tail = ring(0, 0, -50);
  let last = ring(0, shaft, -50);
  join(tail, last);
  last = ring(0, shaft, 0);
  for (let at = 1; at <= neck; at++) {
    const next = ring(at, shaft, 0);
    join(last, next);
    last = next;
  }
  const [inner, outer] = [ring(neck, shaft, -50), ring(neck, head, -50)];
  join(inner, outer);
  const slope = head / headLength;
  last = ring(neck, head, slope);
  for (let at = neck + 1; at < path.length; at++) {
    const share = (at - neck) / (path.length - 1 - neck);
    const next = ring(at, head * (1 - share), slope);
    join(last, next);
    last = next;
  }
  return {
    positions: new Float32Array(positions),
    normals: new Float32Array(normals),
    triangles: new Uint32Array(triangles),
  };
}

function anyAcross(axis: Vector): Vector {
  const other: Vector = Math.abs(axis[1]) < 0.8 ? [0, 1, 0] : [1, 0, 0];
  return unit(along(other, axis, -dot(other, axis)));
}
