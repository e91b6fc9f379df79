import { HeadForm } from "./headForm";
import type { Measurements } from "./measurements";
import { azimuthOfColumn, RadialSurface, type RadialSurfaceData } from "./radialSurface";
import type { ScanMeasures } from "./scanMeasuring";

const rounds = 4;
/** The form is brought to the scan's measures by no more than this share: more is a strand or a slit that they took. */
const mostGrowth = 0.012;
/** Difference that is left as it is, mm. */
const close = 0.05;

/**
 * The surface stretched along the head's axes until its mesh measures as the scan does: smooth as it is, it lies a
 * little within the outermost points of a rough skin, over which tape and calipers go. The girth comes first, where
 * not all of them can be met.
 */
export function sizedToMeasures(
  data: RadialSurfaceData,
  measurements: Measurements,
  { girth, length, breadth, crownHeight }: ScanMeasures,
): RadialSurfaceData {
  let sized = data;
  const whole = [1, 1, 1];
  for (let round = 0; round < rounds; round++) {
    const { measured } = new HeadForm({ measurements, surface: sized });
    const misses = [girth - measured.girth, length - measured.length, breadth - measured.breadth];
    if (Math.max(...misses.map(Math.abs), Math.abs(crownHeight - measured.crownHeight)) < close) break;
    const across = breadth / measured.breadth;
    const along = length / measured.length;
    // Of a near circle half of the girth follows each.
    const level = girth / measured.girth / ((across + along) / 2);
    const up = (crownHeight - data.center[2]) / (measured.crownHeight - data.center[2]);
    for (const [axis, growth] of [level * across, level * along, up].entries()) {
      whole[axis] = Math.min(1 + mostGrowth, Math.max(1 - mostGrowth, whole[axis] * growth));
    }
    sized = stretched(data, whole);
  }
  return sized;
}

/** The surface stretched about its centre. */
function stretched(data: RadialSurfaceData, [x, y, z]: readonly number[]): RadialSurfaceData {
  const surface = new RadialSurface(data);
  const { columns, rows } = data;
  const radii = new Float64Array(columns * rows);
  for (let j = 0; j < rows; j++) {
    const elevation = Math.PI * (j / (rows - 1) - 0.5);
    const [ce, se] = [Math.cos(elevation), Math.sin(elevation)];
    for (let i = 0; i < columns; i++) {
      const azimuth = azimuthOfColumn(data, i);
      const [u, v, w] = [(ce * Math.sin(azimuth)) / x, (ce * Math.cos(azimuth)) / y, se / z];
      const level = Math.hypot(u, v);
      radii[j * columns + i] =
        surface.uncutRadius(Math.atan2(u, v), Math.atan2(w, level)) / Math.hypot(level, w);
    }
  }
  return { ...data, radii };
}
