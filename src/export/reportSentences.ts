import type { ReportMeasure, ReportPlate } from "./report";
import { grouped } from "./rounding";

/** The sentences that the report's texts share, from the report's own data. */

/** `220 × 220 × 250 mm` or `round, 260 mm, 300 mm high`. */
export function plateSize({ plate, heightMm }: ReportPlate): string {
  return plate.shape === "round"
    ? `round ${plate.diameterMm} mm, ${heightMm} mm high`
    : `${plate.widthMm} × ${plate.depthMm} × ${heightMm} mm`;
}

/** How the piece lies on a plate, for example `fits tilted 12.4° and turned 45°, 0 mm to spare in height`. */
export function plateSentence(plate: ReportPlate): string {
  const turns = [
    plate.tiltDegrees === 0 ? undefined : `tilted ${plate.tiltDegrees}°`,
    plate.turnDegrees === 0 ? undefined : `turned ${plate.turnDegrees}°`,
  ].filter((turn) => turn !== undefined);
  const lie = turns.length === 0 ? "as designed" : turns.join(" and ");
  if (plate.fits) {
    const room = Math.max(0, plate.roomMm[plate.tightest]);
    return `fits ${lie}, ${room} mm to spare in ${plate.tightest}`;
  }
  return `too large by ${plate.excessMm} mm in ${plate.tightest} at the best (${lie})`;
}

/** `561 mm`, `190.3 mm, estimated ± 4.9` or `190.3 mm, on the scan`, with the head form's own where it differs. */
export function measureSentence({
  valueMm,
  source,
  standardErrorMm,
  toleranceMm,
  onHeadMm,
}: ReportMeasure): string {
  const error = standardErrorMm === undefined ? "" : ` ± ${standardErrorMm}`;
  const tolerance = toleranceMm === undefined ? "" : ` ± ${toleranceMm} as measured`;
  const measured = onHeadMm === undefined || onHeadMm === valueMm ? "" : ` (head form ${onHeadMm})`;
  const origin = { given: tolerance, scanned: ", on the scan", estimated: `, estimated${error}` }[source];
  return `${valueMm} mm${origin}${measured}`;
}

/** A name written in one word with humps, in plain words: `crownHeight` → `crown height`. */
export const inWords = (name: string): string => name.replace(/([a-z])([A-Z])/g, "$1 $2").toLowerCase();

export { grouped };

export const counted = (count: number, one: string, many = `${one}s`): string =>
  `${grouped(count)} ${count === 1 ? one : many}`;

/** Where the centre of mass lies, seen from the middle between the ears. */
export function centreSentence({
  right,
  forward,
  up,
}: {
  readonly right: number;
  readonly forward: number;
  readonly up: number;
}): string {
  const side = (value: number, positive: string, negative: string): string =>
    `${Math.abs(value)} mm ${value < 0 ? negative : positive}`;
  return [side(forward, "forward", "back"), side(right, "right", "left"), side(up, "up", "down")].join(", ");
}

/** A measure for reading: four significant digits are more than a print holds to. */
export const readable = (value: number): string => String(Number(value.toPrecision(4)));
