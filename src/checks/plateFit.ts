import type { Vec3 } from "../geometry/vector";
import { extremePoints } from "./plate/extremePoints";
import { convexOutline, enclosingCircle, roomInRectangle } from "./plate/footprint";
import { leastTilt, mostRoom, settle } from "./plate/plateSearch";
import type { Printer } from "./printer";

/** A measure of the build volume. */
export type PlateAxis = "width" | "depth" | "diameter" | "height";

/** How a piece lies in a printer's build volume. */
export interface PlateFit {
  readonly fits: boolean;
  /** Angle between the piece's own up (+Z) and the printer's, degrees, 0 to 90: the least that fits. */
  readonly tilt: number;
  /** Turn about the printer's vertical after the tilt, degrees, −180 to 180. */
  readonly turn: number;
  /** From the piece's frame to the printer's: three rows of three. */
  readonly rotation: readonly number[];
  /** Extents as turned, along the plate's width, its depth and up, mm. */
  readonly size: Vec3;
  /** What is left on each measure of the build volume, mm; negative where the piece is too large. */
  readonly room: Readonly<Partial<Record<PlateAxis, number>>>;
  /** The measure with the least room. */
  readonly tightest: PlateAxis;
  /** By how much it is too large on that measure, mm; 0 when it fits. */
  readonly excess: number;
}

/** Room that counts as fitting, mm: what the rounding of 32-bit coordinates may take from an exact fit. */
export const exactFit = -1e-4;

/**
 * Whether points (x, y, z in turn, mm; the vertices of a piece or of its hull) fit a printer's build volume at any
 * turn about the vertical and any tilt. If they fit as designed, turn 0 is kept; if they fit upright, the turn with
 * most room is given; else the least tilt, to about 0.1°. If none fits, the turn and tilt at which the
 * largest excess is least (a tilt that gains less than 0.2 mm is left out).
 *
 * The turn is solved exactly; the tilt by a search over directions (`plateSearch`).
 * @throws RangeError when there are no points, one is not finite, or the build volume is not above zero.
 */
export function plateFit(points: ArrayLike<number>, printer: Pick<Printer, "plate" | "height">): PlateFit {
  checkInput(points, printer);
  const asDesigned = layOut(points, printer, [0, 0, 1], 0);
  if (asDesigned.fits) return asDesigned;

  const upright: Vec3 = [0, 0, 1];
  const turned = layOut(points, printer, upright, roomAlong(points, printer, exactFit)(upright).turn);
  if (turned.fits) return turned;

  // A few points show where to look, more of them settle it, and all of them are measured.
  const fine = extremePoints(points, 5);
  const coarse = extremePoints(fine, 3);
  const coarsely = roomAlong(coarse, printer, exactFit);
  const reach = 2 * radiusAbout(fine);
  const most = mostRoom((up, floor) => coarsely(up, floor).room, reach);
  const rough =
    most.room >= 0
      ? leastTilt((up, floor) => coarsely(up, floor).room, reach, most.directions)
      : most.directions[0];
  const settled = (spare: number): PlateFit => {
    const finely = roomAlong(fine, printer, spare);
    const up = settle((d, floor) => finely(d, floor).room, reach, rough, most.directions[0]);
    return layOut(points, printer, up, finely(up).turn);
  };
  let found =
    coarse.length < points.length ? settled(exactFit) : layOut(points, printer, rough, coarsely(rough).turn);
  // Thinned points may be short of all of them by a hair: if that tips the scale, ask again with a hair to spare.
  let spare = exactFit;
  for (let again = 0; again < 3 && !found.fits && found.excess < 2 * thinning; again++) {
    spare += found.excess + 0.005;
    found = settled(spare);
  }
  return !found.fits && turned.excess < found.excess + worthATilt ? turned : found;
}

/** What `extremePoints` at the finer depth may take from an extent at either end where a headpiece is round, mm. */
const thinning = 0.1;
/** When nothing fits, a tilt is named only if it brings the excess down by this much, mm. */
const worthATilt = 0.2;

/** The most room beyond `spare` at an up direction and the turn that gives it; where surely below `floor`, any bound that says so. */
function roomAlong(
  points: ArrayLike<number>,
  { plate, height }: Pick<Printer, "plate" | "height">,
  spare: number,
): (up: Vec3, floor?: number) => { room: number; turn: number } {
  const count = points.length / 3;
  const x = new Float64Array(count);
  const y = new Float64Array(count);
  return (up, floor = -Infinity) => {
    const r = uprighting(up);
    let bottom = Infinity;
    let top = -Infinity;
    for (let i = 0; i < count; i++) {
      const px = points[3 * i];
      const py = points[3 * i + 1];
      const pz = points[3 * i + 2];
      x[i] = r[0] * px + r[1] * py + r[2] * pz;
      y[i] = r[3] * px + r[4] * py + r[5] * pz;
      const z = r[6] * px + r[7] * py + r[8] * pz;
      if (z < bottom) bottom = z;
      if (z > top) top = z;
    }
    const above = height - (top - bottom) - spare;
    if (above < floor) return { room: above, turn: 0 };
    const flat =
      plate.shape === "round"
        ? { room: plate.diameter - enclosingCircle({ x, y }).diameter, turn: 0 }
        : roomInRectangle(convexOutline(x, y), plate.width, plate.depth);
    return { room: Math.min(above, flat.room - spare), turn: flat.turn };
  };
}

/** The rotation that takes the unit vector `up` (z not negative) to +Z about a level axis; rows. */
function uprighting([x, y, z]: Vec3): number[] {
  const k = 1 / (1 + z);
  return [1 - x * x * k, -x * y * k, -x, -x * y * k, 1 - y * y * k, -y, x, y, z];
}

/** The fit at one up direction and turn (radians), measured on all points. */
function layOut(
  points: ArrayLike<number>,
  { plate, height }: Pick<Printer, "plate" | "height">,
  up: Vec3,
  turn: number,
): PlateFit {
  const r = uprighting(up);
  const c = Math.cos(turn);
  const s = Math.sin(turn);
  const rotation = [
    c * r[0] - s * r[3],
    c * r[1] - s * r[4],
    c * r[2] - s * r[5],
    s * r[0] + c * r[3],
    s * r[1] + c * r[4],
    s * r[2] + c * r[5],
    r[6],
    r[7],
    r[8],
  ];
  const count = points.length / 3;
  const x = new Float64Array(count);
  const y = new Float64Array(count);
  const least = [Infinity, Infinity, Infinity];
  const most = [-Infinity, -Infinity, -Infinity];
  for (let i = 0; i < count; i++) {
    const px = points[3 * i];
    const py = points[3 * i + 1];
    const pz = points[3 * i + 2];
    x[i] = rotation[0] * px + rotation[1] * py + rotation[2] * pz;
    y[i] = rotation[3] * px + rotation[4] * py + rotation[5] * pz;
    const z = rotation[6] * px + rotation[7] * py + rotation[8] * pz;
    least[0] = Math.min(least[0], x[i]);
    most[0] = Math.max(most[0], x[i]);
    least[1] = Math.min(least[1], y[i]);
    most[1] = Math.max(most[1], y[i]);
    least[2] = Math.min(least[2], z);
    most[2] = Math.max(most[2], z);
  }
  const size: Vec3 = [most[0] - least[0], most[1] - least[1], most[2] - least[2]];
  const room: Partial<Record<PlateAxis, number>> =
    plate.shape === "round"
      ? {
          diameter: plate.diameter - enclosingCircle(convexOutline(x, y)).diameter,
          height: height - size[2],
        }
      : { width: plate.width - size[0], depth: plate.depth - size[1], height: height - size[2] };
  const axes = Object.entries(room) as [PlateAxis, number][];
  const [tightest, left] = axes.reduce((a, b) => (b[1] < a[1] ? b : a));
  const fits = left >= exactFit;
  const tilt = (Math.atan2(Math.hypot(up[0], up[1]), up[2]) * 180) / Math.PI;
  return {
    fits,
    tilt,
    turn: halfTurn((turn * 180) / Math.PI),
    rotation,
    size,
    room,
    tightest,
    excess: fits ? 0 : -left,
  };
}

/** The same turn within −180 (left out) to 180 degrees. */
function halfTurn(degrees: number): number {
  const turn = degrees - 360 * Math.round(degrees / 360);
  return turn <= -180 ? turn + 360 : turn;
}

/** Half the greatest distance that any two points can have, mm: the radius about the middle of their box. */
function radiusAbout(points: ArrayLike<number>): number {
  const middle = [0, 1, 2].map((axis) => {
    let least = Infinity;
    let most = -Infinity;
    for (let at = axis; at < points.length; at += 3) {
      least = Math.min(least, points[at]);
      most = Math.max(most, points[at]);
    }
    return (least + most) / 2;
  });
  let radius = 0;
  for (let at = 0; at < points.length; at += 3) {
    radius = Math.max(
      radius,
      Math.hypot(points[at] - middle[0], points[at + 1] - middle[1], points[at + 2] - middle[2]),
    );
  }
  return radius;
}

function checkInput(points: ArrayLike<number>, { plate, height }: Pick<Printer, "plate" | "height">): void {
  if (points.length === 0) throw new RangeError("There are no points to lay on the plate.");
  if (points.length % 3 !== 0) throw new RangeError(`${points.length} coordinates are not whole points.`);
  for (let i = 0; i < points.length; i++) {
    if (!Number.isFinite(points[i]))
      throw new RangeError(`Coordinate ${i} is ${points[i]}: it must be finite.`);
  }
  const sides =
    plate.shape === "round"
      ? { diameter: plate.diameter, height }
      : { width: plate.width, depth: plate.depth, height };
  for (const [side, value] of Object.entries(sides)) {
    if (!(value > 0))
      throw new RangeError(`The build volume's ${side} is ${value} mm: it must be above zero.`);
  }
}
