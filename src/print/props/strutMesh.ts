import type { TriangleMesh } from "../../geometry/mesh";
import type { Vec3 } from "../../geometry/vector";
import type { StrutRing } from "./strut";

/** Sides of a strut, and of one that is nowhere thicker than `slim`, mm of radius. */
const sides = 16;
const sidesOfSlim = 12;
const slim = 2.5;

/**
 * A strut as a closed mesh: a stack of level sections. Each is a circle drawn out along the lean, so that the strut is
 * round across itself and has the area of the circle there; level sections never meet, however the strut bends.
 * @throws RangeError when there are fewer than two rings, they do not go down, or a size is not above zero.
 */
export function strutMesh(rings: readonly StrutRing[]): TriangleMesh {
  checkRings(rings);
  const count = rings.length;
  const segments = rings.every(({ radius }) => radius <= slim) ? sidesOfSlim : sides;
  // Makes a polygon of as many sides have the circle's area.
  const trueArea = Math.sqrt(Math.PI / ((segments / 2) * Math.sin((2 * Math.PI) / segments)));
  const positions = new Float32Array(3 * (segments * count + 2));
  rings.forEach((ring, i) => {
    const lean = leanAt(rings, i);
    for (let k = 0; k < segments; k++) {
      const angle = (2 * Math.PI * k) / segments;
      const [c, s] = [Math.cos(angle), Math.sin(angle)];
      const drawnOut = (lean.stretch - 1) * (c * lean.x + s * lean.y);
      positions.set(
        [
          ring.at[0] + ring.radius * trueArea * (c + drawnOut * lean.x),
          ring.at[1] + ring.radius * trueArea * (s + drawnOut * lean.y),
          ring.at[2],
        ],
        3 * (segments * i + k),
      );
    }
  });
  const top = segments * count;
  positions.set(rings[0].at, 3 * top);
  positions.set(rings[count - 1].at, 3 * (top + 1));
  const triangles = new Uint32Array(3 * 2 * segments * count);
  let t = 0;
  for (let k = 0; k < segments; k++) {
    const next = (k + 1) % segments;
    triangles.set([top, k, next], t);
    t += 3;
    for (let i = 0; i + 1 < count; i++) {
      const [a, b] = [segments * i + k, segments * i + next];
      triangles.set([a, a + segments, b + segments, a, b + segments, b], t);
      t += 6;
    }
    const base = segments * (count - 1);
    triangles.set([top + 1, base + next, base + k], t);
    t += 3;
  }
  return { positions, triangles };
}

interface Lean {
  /** Unit vector, level. */
  readonly x: number;
  readonly y: number;
  /** 1 by the cosine of the lean. */
  readonly stretch: number;
}

/** The lean of a strut at a ring: the mean of what comes and goes. */
function leanAt(rings: readonly StrutRing[], i: number): Lean {
  const slope = (k: number): Vec3 => {
    const [a, b] = [rings[k].at, rings[k + 1].at];
    const drop = a[2] - b[2];
    return [(b[0] - a[0]) / drop, (b[1] - a[1]) / drop, 1];
  };
  const above = slope(Math.max(0, i - 1));
  const below = slope(Math.min(rings.length - 2, i));
  const [x, y] = [(above[0] + below[0]) / 2, (above[1] + below[1]) / 2];
  const across = Math.hypot(x, y);
  if (across < 1e-9) return { x: 1, y: 0, stretch: 1 };
  return { x: x / across, y: y / across, stretch: Math.hypot(1, across) };
}

function checkRings(rings: readonly StrutRing[]): void {
  if (rings.length < 2) throw new RangeError(`a strut of ${rings.length} sections: it takes at least 2`);
  rings.forEach(({ at, radius }, i) => {
    if (!at.every(Number.isFinite) || !(radius > 0 && Number.isFinite(radius))) {
      throw new RangeError(`section ${i} of a strut is at (${at.join(", ")}) with a radius of ${radius} mm`);
    }
    if (i > 0 && !(at[2] < rings[i - 1].at[2])) {
      throw new RangeError(`section ${i} of a strut lies at ${at[2]} mm, not below the one before`);
    }
  });
}
