import type { Part, TubePart } from "../../design/part";
import { curveOf } from "../../geometry/curveCache";
import { sectionReach } from "../../geometry/section";
import { tubeProfile } from "../../geometry/tips";
import { emptyPlace } from "../../geometry/triangleTree";
import type { Vec3 } from "../../geometry/vector";
import { extremePoints } from "../plate/extremePoints";
import type { WornPiece } from "../wornPiece";

/** A rounded end of a tube that stands free. */
export interface FreeTip {
  readonly part: string;
  /** Index of the part in the design. */
  readonly index: number;
  /** Radius of its end, mm; of an outline half its thickness. */
  readonly radius: number;
  /** Its outermost point, mm. */
  readonly at: Vec3;
}

/** An end farther than this inside the solid is grown into another part, mm. */
const grownIn = 0.35;

/** The tips of the tubes that stand free: ends that lie in another part, and flat ends, are none. */
export function freeTips(piece: WornPiece): FreeTip[] {
  return piece.parts.flatMap((part, index) =>
    part.kind === "tube"
      ? tipsOf(part)
          .filter(({ at }) => isOnSurface(piece, at))
          .map(({ radius, at }) => ({ part: part.name, index, radius, at }))
      : [],
  );
}

const place = emptyPlace();

/** Whether a point lies on the finished solid's surface. */
export const isOnSurface = (piece: WornPiece, [x, y, z]: Vec3): boolean =>
  piece.tree.nearest(x, y, z, place, grownIn).triangle >= 0;

/** Rounded ends of a tube as designed: radius, and the outermost point. */
function tipsOf({ shape }: TubePart): { radius: number; at: Vec3 }[] {
  if (shape.path.closed) return [];
  const curve = curveOf(shape.path);
  const profile = tubeProfile(shape, curve.length);
  const thickness = shape.section.kind === "circle" ? 1 : halfThickness(shape.section.points);
  return ([0, 1] as const).flatMap((share) => {
    const cap = share === 0 ? profile.start : profile.end;
    if (cap.kind !== "dome") return [];
    const point = curve.pointAt(share);
    const along = curve.tangentAt(share);
    const way = share === 0 ? -cap.radius : cap.radius;
    const at: Vec3 = [point[0] + way * along[0], point[1] + way * along[1], point[2] + way * along[2]];
    return [{ radius: cap.radius * thickness, at }];
  });
}

/** Half the least width of an outline, in its own units. */
function halfThickness(points: readonly (readonly [number, number])[]): number {
  let least = Infinity;
  for (let k = 0; k < 90; k++) {
    const angle = (Math.PI * k) / 90;
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    let [low, high] = [Infinity, -Infinity];
    for (const [x, y] of points) {
      const reach = x * c + y * s;
      low = Math.min(low, reach);
      high = Math.max(high, reach);
    }
    least = Math.min(least, (high - low) / 2);
  }
  return least;
}

/** Places along a tube at which balls stand for it. */
const places = 25;

/** Points on the hull of a part, x, y, z in turn, mm: enough to tell what it fits into. */
export function hullPoints(part: Part): Float64Array {
  if (part.kind === "solid") return extremePoints(part.mesh.positions, 2);
  if (part.kind === "cut") return new Float64Array(0);
  const { path, section } = part.shape;
  const curve = curveOf(path);
  const profile = tubeProfile(part.shape, curve.length);
  const shares = Float64Array.from({ length: places }, (_, i) => i / (places - 1));
  const { points } = curve.sample(shares);
  const reach = sectionReach(section);
  const hull = new Float64Array(3 * places * directions.length);
  let next = 0;
  for (let i = 0; i < places; i++) {
    const radius = profile.radiusAt(shares[i] * curve.length) * reach;
    for (const direction of directions) {
      for (let axis = 0; axis < 3; axis++) hull[next++] = points[3 * i + axis] + radius * direction[axis];
    }
  }
  return hull;
}

/** Fourteen directions: of a cube's faces and corners. */
const third = 1 / Math.sqrt(3);
const directions: readonly Vec3[] = [
  ...[1, -1].flatMap((s): Vec3[] => [
    [s, 0, 0],
    [0, s, 0],
    [0, 0, s],
  ]),
  ...[third, -third].flatMap((x) =>
    [third, -third].flatMap((y) => [third, -third].map((z): Vec3 => [x, y, z])),
  ),
];
