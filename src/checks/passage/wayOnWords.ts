import { distance, type Vec3 } from "../../geometry/vector";
import { sideWords } from "../gap";
import type { WornHead } from "../wornHead";
import { tiltOf } from "./passageMotion";
import type { Opening } from "./passageOpening";
import type { Way } from "./wayOnResult";

/** How a person puts the piece on this way: one clause. */
export function wayInWords({ off }: Pick<Way, "off">): string {
  if (off.kind === "hinge") {
    const [first, other] = off.edge === "front" ? ["front", "back"] : ["back", "front"];
    const turn = Math.round(off.degrees / 5) * 5;
    return `set its ${first} edge on the head first, with the ${other} raised by ${turn}°, and turn the ${other} down`;
  }
  const { tilt, azimuth } = tiltOf(off.direction);
  const rounded = Math.round(tilt);
  if (rounded < 3) return "lower it straight down, held as it sits";
  const from = quarter(azimuth);
  if (Math.abs(rounded - 90) < 3) return `slide it on level from ${from}, held as it sits`;
  if (rounded > 90)
    return `slide it on from ${from} and slightly upwards, ${rounded - 90}° above level, held as it sits`;
  return `slide it down from ${from}, ${rounded}° off straight down, held as it sits`;
}

/** The same in a few words, for a list: how the piece moves on to the head. */
export function wayName({ kind, off }: Pick<Way, "kind" | "off">): string {
  if (off.kind === "hinge") return `hinged at the ${off.edge}`;
  if (kind === "straight") return "straight down";
  const { tilt, azimuth } = tiltOf(off.direction);
  return `from ${quarter(azimuth)}, ${Math.round(tilt)}° off straight down`;
}

/** Where the piece comes from, by azimuth. */
function quarter(azimuth: number): string {
  const names = [
    "the front",
    "the front right",
    "the right",
    "the back right",
    "the back",
    "the back left",
    "the left",
    "the front left",
  ];
  return names[((Math.round(azimuth / 45) % 8) + 8) % 8];
}

/** What of the head is at a place, as a sentence has it: an ear, the nose, the chin, or the side. */
export function placeOnHead(point: Vec3, head: WornHead): string {
  const { landmarks, measurements } = head;
  const scale = measurements.crownHeight / 129;
  const [x, y, z] = point;
  // An ear begins at the tragion and leans back from it; half of it is higher.
  const ear = x < 0 ? landmarks.leftTragion : landmarks.rightTragion;
  const length = measurements.earLength ?? 62 * scale;
  const isAtEar =
    Math.abs(x) > Math.abs(ear[0]) - 4 &&
    y < ear[1] + 6 &&
    y > ear[1] - 0.65 * length &&
    Math.abs(z - ear[2] + 0.13 * length) < 0.6 * length;
  if (isAtEar) return `at the ${x < 0 ? "left" : "right"} ear`;
  if (distance(point, landmarks.noseTip) < 24 * scale) return "at the nose";
  if (distance(point, landmarks.chin) < 24 * scale) return "at the chin";
  return sideWords[head.sideOf(point)];
}

/** An opening as a maker would cut it. */
export function openingInWords({ side, width, zFrom, zTo }: Opening): string {
  const where = side === "back" || side === "front" ? `at the ${side}` : `on the ${side}`;
  return `open it ${where}, ${Math.ceil(width)} mm wide, from the height ${Math.floor(zFrom)} up to ${Math.ceil(zTo)} mm`;
}
