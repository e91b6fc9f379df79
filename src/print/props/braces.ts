import type { Vec3 } from "../../geometry/vector";
import type { Fork } from "./growTrees";
import { radiusFor } from "./propLimits";
import type { Room } from "./room";
import type { Strut } from "./strut";
import { radiusBelow } from "./wayDown";

/** The upright part of a strut. */
interface Upright {
  readonly x: number;
  readonly y: number;
  readonly top: number;
  /** Above its foot. */
  readonly bottom: number;
  /** With what stands on it, over the plate. */
  readonly height: number;
  radiusAt(z: number): number;
}

const degree = Math.PI / 180;
/** A strut is braced to so many others at most, the nearest. */
const mostPartners = 2;
/** Struts nearer than this are as good as one, mm. */
const leastApart = 4;

/**
 * Diagonal struts, to and fro from the foot up, between tall struts that stand near each other: at the same lean as all
 * struts, no thicker than what they start from, and with the clearance from the piece.
 */
export function bracesBetween(forks: readonly Fork[], room: Room): Strut[] {
  const { bracedHeight, braceReach } = room.limits;
  const uprights = forks.map((fork) => uprightOf(fork, room)).filter(({ height }) => height > bracedHeight);
  const pairs = uprights.flatMap((a, i) =>
    uprights.slice(i + 1).map((b, k) => ({ i, j: i + 1 + k, apart: Math.hypot(a.x - b.x, a.y - b.y) })),
  );
  const partners = new Int32Array(uprights.length);
  const braces: Strut[] = [];
  for (const { i, j, apart } of pairs.sort((p, q) => p.apart - q.apart || p.i - q.i || p.j - q.j)) {
    if (apart > braceReach) break;
    if (apart < leastApart) continue;
    if (partners[i] >= mostPartners || partners[j] >= mostPartners) continue;
    const found = zigzag(uprights[i], uprights[j], apart, room);
    if (found.length === 0) continue;
    partners[i]++;
    partners[j]++;
    braces.push(...found);
  }
  return braces;
}

function uprightOf({ way, need }: Fork, room: Room): Upright {
  const { corners, foot } = way;
  let bent = 0;
  for (let i = 0; i + 2 < corners.length; i++) {
    const [a, b] = [corners[i], corners[i + 1]];
    bent += Math.hypot(b[0] - a[0], b[1] - a[1], b[2] - a[2]);
  }
  const top = corners[corners.length - 2][2];
  return {
    x: foot.x,
    y: foot.y,
    top,
    bottom: Math.min(top, foot.z + foot.radius),
    height: top + bent + need.above,
    radiusAt: (z) => radiusBelow(need, bent + top - z, room),
  };
}

function zigzag(a: Upright, b: Upright, apart: number, room: Room): Strut[] {
  const { lean, thickness } = room.limits;
  const rise = apart / Math.tan(lean * degree);
  const radius = Math.max(thickness / 2, radiusFor(Math.hypot(apart, rise), room.limits));
  const bottom = Math.max(a.bottom, b.bottom);
  const top = Math.min(a.top, b.top);
  const braces: Strut[] = [];
  let [from, to] = [a, b];
  for (let z = bottom; z + rise <= top; z += rise) {
    // Where struts stand so near that they touch, or are thinner than the brace, there is none.
    const fits = radius <= 0.9 * from.radiusAt(z) && apart > from.radiusAt(z) + to.radiusAt(z + rise);
    const lower: Vec3 = [from.x, from.y, z];
    const upper: Vec3 = [to.x, to.y, z + rise];
    if (fits && room.isFree(upper, lower, radius, radius)) {
      braces.push({
        kind: "brace",
        rings: [
          { at: upper, radius },
          { at: lower, radius },
        ],
      });
    }
    [from, to] = [to, from];
  }
  return braces;
}
