import type { Orientation } from "../../orientation";
import { upOf } from "../placedPiece";
import { angleBetween } from "./directions";

/** Sides of the head by azimuth, in steps of 45° from the front over the right. */
const sides = ["front", "right front", "right", "right back", "back", "left back", "left", "left front"];

/** How a piece stands on the plate, in one clause: "upright", "lying on its back", "tilted 35°, its right side up". */
export function orientationWords({ tilt, towards, turn }: Orientation): string {
  const turned = Math.round(turn) === 0 ? "" : `, turned ${Math.round(turn)}°`;
  return standing(tilt, towards) + turned;
}

function standing(tilt: number, towards: number): string {
  if (tilt < 0.5) return "upright";
  if (tilt > 179.5) return "upside down";
  const side = sides[((Math.round(towards / 45) % 8) + 8) % 8];
  const opposite = sides[((Math.round(towards / 45) % 8) + 12) % 8];
  if (Math.abs(tilt - 90) < 5) return `lying on its ${opposite}`;
  const named = side.includes("front") || side.includes("back") ? side : `${side} side`;
  return `tilted ${tilt < 10 ? Number(tilt.toFixed(1)) : Math.round(tilt)}°, its ${named} up`;
}

/** The line that says so in a design. */
export const orientationLine = ({ tilt, towards, turn }: Orientation): string =>
  `print: { orientation: { tilt: ${short(tilt)}, towards: ${short(towards)}, turn: ${short(turn)} } }`;

/** In two digits behind the point at most. */
const short = (degrees: number): string => String(Math.round(degrees * 100) / 100 + 0);

/** Whether two orientations have the same direction up, to half a degree. */
export const sameUp = (a: Orientation, b: Orientation): boolean => angleBetween(upOf(a), upOf(b)) < 0.5;
