import type { PlateOutline } from "../protocol";

/** Lines between points, plate frame, mm: x, y, z of both ends of each in turn. */
export type Segments = number[];

/** Distance of the grid's lines, mm. */
export const gridStep = 10;

/** Sides that a round plate is drawn with: no side shows at any size on a screen. */
const roundSides = 128;

/** Corners of the plate, counter-clockwise from above, x and y. */
export function outlinePoints(outline: PlateOutline): [number, number][] {
  if (outline.shape === "rectangular") {
    const [x, y] = [outline.width / 2, outline.depth / 2];
    return [
      [-x, -y],
      [x, -y],
      [x, y],
      [-x, y],
    ];
  }
  return Array.from({ length: roundSides }, (_, i) => {
    const angle = (2 * Math.PI * i) / roundSides;
    return [(outline.diameter / 2) * Math.cos(angle), (outline.diameter / 2) * Math.sin(angle)];
  });
}

/** The plate's edge at a height. */
export function edgeAt(outline: PlateOutline, z: number): Segments {
  const points = outlinePoints(outline);
  return points.flatMap(([x, y], i) => {
    const next = points[(i + 1) % points.length];
    return [x, y, z, next[0], next[1], z];
  });
}

/** The grid on the plate, from its middle, inside its edge. */
export function gridLines(outline: PlateOutline): Segments {
  const [wide, deep] =
    outline.shape === "rectangular"
      ? [outline.width / 2, outline.depth / 2]
      : [outline.diameter / 2, outline.diameter / 2];
  const reach = (offset: number, straight: number): number =>
    outline.shape === "rectangular" ? straight : Math.sqrt(Math.max(0, straight ** 2 - offset ** 2));
  const lines: Segments = [];
  for (const x of offsets(wide)) {
    const y = reach(x, deep);
    lines.push(x, -y, 0, x, y, 0);
  }
  for (const y of offsets(deep)) {
    const x = reach(y, wide);
    lines.push(-x, y, 0, x, y, 0);
  }
  return lines;
}

/** The edges of the build volume over the plate: uprights and the upper edge. */
export function volumeLines(outline: PlateOutline, height: number): Segments {
  const points = outlinePoints(outline);
  const uprights =
    outline.shape === "rectangular" ? points : points.filter((_, i) => i % (roundSides / 4) === 0);
  return [...uprights.flatMap(([x, y]) => [x, y, 0, x, y, height]), ...edgeAt(outline, height)];
}

/** The same lines in dashes: what does not fit is told by more than a colour. */
export function dashed(lines: Segments, dash = 6, gap = 4): Segments {
  const dashes: Segments = [];
  // Short sides of a round edge share one rhythm.
  let into = 0;
  for (let i = 0; i + 5 < lines.length; i += 6) {
    const from = lines.slice(i, i + 3);
    const step = [0, 1, 2].map((axis) => lines[i + 3 + axis] - from[axis]);
    const length = Math.hypot(...step);
    const at = (distance: number) => from.map((value, axis) => value + (step[axis] * distance) / length);
    let done = 0;
    while (length - done > 1e-9) {
      const isDash = into < dash;
      const run = Math.min((isDash ? dash : dash + gap) - into, length - done);
      if (isDash) dashes.push(...at(done), ...at(done + run));
      done += run;
      into = into + run >= dash + gap - 1e-9 ? 0 : into + run;
    }
  }
  return dashes;
}

function offsets(half: number): number[] {
  const count = Math.ceil(half / gridStep) - 1;
  return Array.from({ length: 2 * count + 1 }, (_, i) => (i - count) * gridStep);
}
