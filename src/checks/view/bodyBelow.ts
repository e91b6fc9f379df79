import type { Vec3 } from "../../geometry/vector";
import type { Measurements } from "../../head/measurements";
import type { BodyDistance } from "./freeAngle";

/** All points no farther than `radius` from the line between two points, mm. */
export interface Capsule {
  readonly name: "neck" | "left shoulder" | "right shoulder" | "chest and back";
  readonly from: Vec3;
  readonly to: Vec3;
  readonly radius: number;
}

/** What of the body a piece may meet while the head moves, and where the head moves about; mm, head frame at rest. */
export interface BodyBelow {
  readonly capsules: readonly Capsule[];
  /** The head nods and tilts about this point and turns about the upright line through it. */
  readonly joint: Vec3;
}

/** An adult head and neck of the survey's mean (ANSUR II, both sexes), mm. */
const adult = { length: 196.4, breadth: 152.2, crownHeight: 129.6, neckGirth: 375 };

/**
 * Neck, shoulders, chest and back below a head, upright and at rest. The joint between skull and neck (atlanto-occipital)
 * lies 11 mm behind and 26 mm below the middle of the tragions: from memory, Thunnissen et al. 1995, SAE 952721; the
 * joint below it, about which the head turns, stands under it. The neck has the wearer's girth. The rest goes with the
 * head's size, from rounded means of adults, from memory: top of the shoulder 180 mm below the tragions, 390 mm from
 * shoulder to shoulder over the bones and 450 mm over the arms, chest 225 mm deep. A child's shoulders are narrower for
 * its head, which leaves it more room than this.
 */
export function bodyBelow({ length, breadth, crownHeight, neckGirth }: Measurements): BodyBelow {
  const size = (length / adult.length + breadth / adult.breadth + crownHeight / adult.crownHeight) / 3;
  const at = (x: number, y: number, z: number): Vec3 => [x * size, y * size, z * size];
  const shoulder = (side: 1 | -1): Capsule => ({
    name: side > 0 ? "right shoulder" : "left shoulder",
    from: at(25 * side, -45, -190),
    to: at(177 * side, -40, -228),
    radius: 48 * size,
  });
  return {
    joint: at(0, -11, -26),
    capsules: [
      {
        name: "neck",
        from: at(0, -16, -108),
        to: at(0, -32, -185),
        radius: (neckGirth ?? adult.neckGirth * size) / (2 * Math.PI),
      },
      shoulder(-1),
      shoulder(1),
      { name: "chest and back", from: at(-70, -40, -262), to: at(70, -40, -262), radius: 80 * size },
      { name: "chest and back", from: at(-60, -25, -345), to: at(60, -25, -345), radius: 112 * size },
    ],
  };
}

/** Signed distance to capsules together, mm; exact outside. */
export function distanceToCapsules(capsules: readonly Capsule[]): BodyDistance {
  const count = capsules.length;
  // From, way to, one over its length squared, radius.
  const data = new Float64Array(8 * count);
  capsules.forEach(({ from, to, radius }, i) => {
    const way = [0, 1, 2].map((axis) => to[axis] - from[axis]);
    const square = way[0] ** 2 + way[1] ** 2 + way[2] ** 2;
    data.set([...from, ...way, square > 0 ? 1 / square : 0, radius], 8 * i);
  });
  return (x, y, z) => {
    let least = Infinity;
    for (let at = 0; at < 8 * count; at += 8) {
      const px = x - data[at];
      const py = y - data[at + 1];
      const pz = z - data[at + 2];
      const along = (px * data[at + 3] + py * data[at + 4] + pz * data[at + 5]) * data[at + 6];
      const t = Math.min(1, Math.max(0, along));
      const dx = px - t * data[at + 3];
      const dy = py - t * data[at + 4];
      const dz = pz - t * data[at + 5];
      const distance = Math.sqrt(dx * dx + dy * dy + dz * dz) - data[at + 7];
      if (distance < least) least = distance;
    }
    return least;
  };
}

/** The capsule that a point is nearest to. */
export function nearestCapsule(capsules: readonly Capsule[], [x, y, z]: Vec3): Capsule | undefined {
  let nearest: Capsule | undefined;
  let least = Infinity;
  for (const capsule of capsules) {
    const distance = distanceToCapsules([capsule])(x, y, z);
    if (distance < least) {
      least = distance;
      nearest = capsule;
    }
  }
  return nearest;
}
