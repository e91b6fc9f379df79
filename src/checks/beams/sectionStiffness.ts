import type { Vec2, Vec3 } from "../../geometry/vector";
import type { FillSettings } from "../../printSettings";

/** A plane section's moments, in its own unit of length (a tube's outline: its radius), about its centre of area. */
export interface SectionMoments {
  readonly area: number;
  readonly centroid: Vec2;
  /** Angle of the first principal axis from the section's x, radians. */
  readonly turn: number;
  /** Second moments of area about the first and the second principal axis. */
  readonly second: readonly [number, number];
  /** Half widths along the first and the second principal axis. */
  readonly half: readonly [number, number];
  /** Outline about the centroid along the principal axes, p₁ and p₂ in turn; empty for a circle. */
  readonly outline: Float64Array;
}

/** The circle of radius 1. */
export const circleMoments: SectionMoments = {
  area: Math.PI,
  centroid: [0, 0],
  turn: 0,
  second: [Math.PI / 4, Math.PI / 4],
  half: [1, 1],
  outline: new Float64Array(0),
};

/**
 * Moments of what directed segments enclose, its inside on their left: x₀, y₀, x₁, y₁ of each in turn, in any order;
 * undefined where they enclose nothing. Green's theorem turns the integrals of 1, x, y, x², xy, y² over the area into
 * sums over the segments (Steger 1996, *On the calculation of arbitrary moments of polygons*).
 */
export function segmentMoments(segments: ArrayLike<number>): SectionMoments | undefined {
  let [twice, sx, sy, sxx, sxy, syy] = [0, 0, 0, 0, 0, 0];
  // About a point of the section, so that one far from the origin loses no digits.
  const [ox, oy] = segments.length > 0 ? [segments[0], segments[1]] : [0, 0];
  for (let i = 0; i < segments.length; i += 4) {
    const [x0, y0] = [segments[i] - ox, segments[i + 1] - oy];
    const [x1, y1] = [segments[i + 2] - ox, segments[i + 3] - oy];
    const k = x0 * y1 - x1 * y0;
    twice += k;
    sx += k * (x0 + x1);
    sy += k * (y0 + y1);
    sxx += k * (x0 * x0 + x0 * x1 + x1 * x1);
    syy += k * (y0 * y0 + y0 * y1 + y1 * y1);
    sxy += k * (2 * x0 * y0 + x0 * y1 + x1 * y0 + 2 * x1 * y1);
  }
  const area = twice / 2;
  if (!(area > 0)) return undefined;
  const [cx, cy] = [sx / (6 * area), sy / (6 * area)];
  // Integrals of y², x² and xy about the centroid.
  const ixx = syy / 12 - area * cy * cy;
  const iyy = sxx / 12 - area * cx * cx;
  const ixy = sxy / 24 - area * cx * cy;
  const turn = Math.atan2(-2 * ixy, ixx - iyy) / 2;
  const middle = (ixx + iyy) / 2;
  const spread = Math.hypot((ixx - iyy) / 2, ixy);
  const outline = new Float64Array(segments.length / 2);
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  const least = [Infinity, Infinity];
  const most = [-Infinity, -Infinity];
  for (let i = 0; i < segments.length; i += 4) {
    const [x, y] = [segments[i] - ox - cx, segments[i + 1] - oy - cy];
    const p = [c * x + s * y, c * y - s * x];
    for (let axis = 0; axis < 2; axis++) {
      outline[i / 2 + axis] = p[axis];
      least[axis] = Math.min(least[axis], p[axis]);
      most[axis] = Math.max(most[axis], p[axis]);
    }
  }
  return {
    area,
    centroid: [cx + ox, cy + oy],
    turn,
    second: [middle + spread, Math.max(middle - spread, 0)],
    half: [(most[0] - least[0]) / 2, (most[1] - least[1]) / 2],
    outline,
  };
}

/** Moments of a simple polygon, counter-clockwise (see `segmentMoments`). */
export function outlineMoments(points: readonly Vec2[]): SectionMoments | undefined {
  return segmentMoments(points.flatMap((p, i) => [...p, ...points[(i + 1) % points.length]]));
}

/** An empty core about the section's middle: the outline made smaller. */
export interface Cavity {
  /** Size of the core as a share of the section's. */
  readonly share: number;
  /** Thickness of the wall round it, mm. */
  readonly wall: number;
}

/**
 * Second moments of area of a printed section about its principal axes, mm⁴, as if all of it were of the shells'
 * stiffness: I = I(outline) − (1 − f)·I(core), where shells run along every rim and the core within them is filled to the
 * share f. The core's stiffness and strength are taken in proportion to f, a plain rule of mixtures, which is too
 * favourable; for an open foam Gibson & Ashby (*Cellular solids*, 1997; from memory) give f². What shells leave of an
 * outline is taken as the outline shrunk along its principal axes by their thickness: exact for a circle and for a
 * rectangle, some percent on the safe side for a blade.
 * @param unit the section's unit of length, mm (a tube's radius)
 */
export function printedSecondMoments(
  { second, half }: SectionMoments,
  unit: number,
  print: FillSettings,
  cavity?: Cavity,
): [number, number] {
  const fourth = unit ** 4;
  const shells = Math.max(0, print.shells * print.lineWidth);
  const empty = 1 - Math.min(1, Math.max(0, print.infill / 100));
  const within = (a: number, b: number): [number, number] => [
    second[0] * fourth * a * b ** 3,
    second[1] * fourth * b * a ** 3,
  ];
  const left = (axis: 0 | 1): number => Math.max(0, 1 - shells / (half[axis] * unit));
  const core = within(left(0), left(1));
  if (!cavity) return [second[0] * fourth - empty * core[0], second[1] * fourth - empty * core[1]];
  const hole = within(cavity.share, cavity.share);
  // Between the shells along the outer rim and those along the hole's.
  const inner = cavity.share + (1 - cavity.share) * Math.min(1, shells / Math.max(cavity.wall, 1e-9));
  const lined = within(inner, inner);
  return [0, 1].map(
    (axis) => second[axis] * fourth - hole[axis] - empty * Math.max(0, core[axis] - lined[axis]),
  ) as [number, number];
}

/** A section as it stands in space: axes of its outline and its direction, unit vectors. */
export interface PlacedSection {
  readonly x: Vec3;
  readonly y: Vec3;
  readonly tangent: Vec3;
}

/**
 * Greatest bending stress in a section, MPa per N, under a load at `lever` from its centroid (mm) in whichever direction
 * is the worst. A load along u gives the moment lever × u; what of it bends reaches, over all unit u, the ellipse with the
 * half axes |lever| (about the normal of the plane of lever and tangent) and |lever · tangent| (within that plane). A
 * point p of the outline has the stress m₁·p₂/I₁ − m₂·p₁/I₂, linear in the moment, so its greatest over the ellipse is
 * a root of two squares. A circle comes to |lever|·r/I; there no direction is worse when torsion is counted too
 * (von Mises: the other extreme gives √(l_t² + ¾ l_n²) ≤ |lever|). Tension and shear are left out.
 */
export function bendingStressPerNewton(
  { outline, turn }: SectionMoments,
  unit: number,
  second: readonly [number, number],
  { x, y, tangent }: PlacedSection,
  lever: Vec3,
): number {
  const whole = Math.hypot(lever[0], lever[1], lever[2]);
  if (!(second[0] > 0 && second[1] > 0)) return 0;
  if (outline.length === 0) return (whole * unit) / second[0];
  const along = lever[0] * tangent[0] + lever[1] * tangent[1] + lever[2] * tangent[2];
  let nx = lever[0] * x[0] + lever[1] * x[1] + lever[2] * x[2];
  let ny = lever[0] * y[0] + lever[1] * y[1] + lever[2] * y[2];
  const across = Math.hypot(nx, ny);
  [nx, ny] = across > 1e-12 ? [nx / across, ny / across] : [1, 0];
  // The lever's direction across the tube, along the principal axes.
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  const [n1, n2] = [c * nx + s * ny, c * ny - s * nx];
  let most = 0;
  for (let i = 0; i < outline.length; i += 2) {
    const g1 = (outline[i + 1] * unit) / second[0];
    const g2 = (-outline[i] * unit) / second[1];
    const inPlane = along * (g1 * n1 + g2 * n2);
    const square = whole * (g2 * n1 - g1 * n2);
    most = Math.max(most, inPlane * inPlane + square * square);
  }
  return Math.sqrt(most);
}

/**
 * Strength at an angle to the layers, in the unit of its arguments: S∥·S⊥ / (S∥·sin²φ + S⊥·cos²φ), where φ is the angle
 * between the stress and the plane of the layers (Hankinson 1921, *Investigation of crushing strength of spruce at
 * varying angles of grain*; there for grain, here for layers).
 * @param sine sin φ
 */
export const strengthAtAngle = (along: number, across: number, sine: number): number => {
  const square = Math.min(1, sine * sine);
  return (along * across) / (along * square + across * (1 - square));
};
