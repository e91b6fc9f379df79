import { degrees } from "../../geometry/vector";

export type Eye = "left" | "right";
export const eyes = ["left", "right"] as const satisfies readonly Eye[];

/**
 * Border of what one eye sees while it looks straight ahead, degrees from there: from memory, as handbooks of
 * perimetry have it (70 to 75° down); brow, nose and cheek make it what it is.
 */
export const normalField = { temporal: 100, nasal: 60, up: 60, down: 72 } as const;

/** Sight is looked into as far as this, degrees from straight ahead: beyond the border of the field. */
export const sightReach = 110;

/**
 * Border of an eye's normal field on a meridian, degrees from straight ahead. Meridians go as the wearer sees them:
 * 0 right, 90 up, 180 left, 270 down. In the polar plot the border is four quarters of ellipses, which meet smoothly
 * at the values of {@link normalField}.
 */
export function fieldBorder(eye: Eye, meridian: number): number {
  const angle = (meridian * Math.PI) / 180;
  const [right, up] = [Math.cos(angle), Math.sin(angle)];
  return 1 / Math.sqrt(right ** 2 / sideBorder(eye, right) ** 2 + up ** 2 / heightBorder(up) ** 2);
}

/** Border of both eyes together on a meridian, degrees. */
export const bothBorder = (meridian: number): number =>
  Math.max(fieldBorder("left", meridian), fieldBorder("right", meridian));

/** Whether an eye could see a direction; beyond the border of both, the eye whose own border reaches farther there. */
export function couldSee(eye: Eye, eccentricity: number, meridian: number): boolean {
  const own = fieldBorder(eye, meridian);
  if (eccentricity <= own) return true;
  const both = bothBorder(meridian);
  return eccentricity > both && own >= both - 1e-9;
}

const sideBorder = (eye: Eye, right: number): number =>
  (eye === "right") === right >= 0 ? normalField.temporal : normalField.nasal;
const heightBorder = (up: number): number => (up >= 0 ? normalField.up : normalField.down);

/** Width of a cell where it is least slanted, rad. */
const cellWidth = (0.25 * Math.PI) / 180;
/** Cells from the middle to either edge. */
const half = Math.ceil((2 * Math.sin((sightReach * Math.PI) / 360)) / cellWidth) + 1;

/**
 * Directions as the cells of a square, straight ahead (+Y) in the middle, right and up as the wearer sees them:
 * Lambert's azimuthal projection, which keeps areas, so that each cell is the same solid angle. A direction θ from
 * straight ahead lies 2 sin(θ/2) from the middle.
 */
export const directionGrid = {
  half,
  size: 2 * half + 1,
  cellWidth,
  /** sr */
  cellSolidAngle: cellWidth ** 2,
} as const;

/** The cell that a direction lies in, degrees from straight ahead (at most {@link sightReach}) and meridian. */
export function cellOf(eccentricity: number, meridian: number): number {
  const radius = (2 * Math.sin((eccentricity * Math.PI) / 360)) / cellWidth;
  const angle = (meridian * Math.PI) / 180;
  const right = half + Math.round(radius * Math.cos(angle));
  const up = half + Math.round(radius * Math.sin(angle));
  return up * directionGrid.size + right;
}

/** The unit vector of a cell's middle, head frame. */
export function directionOfCell(cell: number): [number, number, number] {
  const x = ((cell % directionGrid.size) - half) * cellWidth;
  const z = (Math.floor(cell / directionGrid.size) - half) * cellWidth;
  const square = x * x + z * z;
  const k = Math.sqrt(Math.max(0, 1 - square / 4));
  return [x * k, 1 - square / 2, z * k];
}

/** What an eye's field is marked with in {@link fieldCells}. */
export const eyeBit = { left: 1, right: 2 } as const satisfies Record<Eye, number>;

let cells: Uint8Array | undefined;

/** For each cell the eyes in whose normal field it lies, as bits. */
export function fieldCells(): Uint8Array {
  if (cells) return cells;
  const { size } = directionGrid;
  cells = new Uint8Array(size * size);
  for (let cell = 0; cell < cells.length; cell++) {
    const x = ((cell % size) - half) * cellWidth;
    const z = (Math.floor(cell / size) - half) * cellWidth;
    const square = x * x + z * z;
    const eccentricity = degrees(2 * Math.asin(Math.min(1, Math.sqrt(square) / 2)));
    for (const eye of eyes) {
      // The quarters of ellipses, without their angle.
      const border = (x / sideBorder(eye, x)) ** 2 + (z / heightBorder(z)) ** 2;
      if (eccentricity ** 2 * border <= square) cells[cell] |= eyeBit[eye];
    }
  }
  return cells;
}
