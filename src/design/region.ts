import { distance, type Vec3 } from "../geometry/vector";
import { type Region as HeadRegion, inRegion } from "../head/regions";
import { number, options } from "./check";
import type { HeadCoordinates } from "./headSpace";
import type { Point } from "./point";
import type { Random } from "./random";

/** The named regions of the head; `hair` is where hair grows. They overlap as the words do. */
export type RegionName = HeadRegion;

/** A region between two azimuths (running to the right from the first) and two elevations, degrees. */
export interface Region {
  readonly azimuth?: readonly [from: number, to: number];
  readonly elevation?: readonly [from: number, to: number];
}

/** Whether a place of the head lies in a region. */
export function isIn(region: RegionName | Region, place: { azimuth: number; elevation: number }): boolean {
  if (typeof region === "string") return inRegion(region, place);
  options(region, "a region", ["azimuth", "elevation"]);
  const [low, high] = region.elevation ?? [-90, 90];
  if (place.elevation < number(low, "elevation of a region")) return false;
  if (place.elevation > number(high, "elevation of a region")) return false;
  if (!region.azimuth) return true;
  const [from, to] = region.azimuth.map((azimuth) => number(azimuth, "azimuth of a region"));
  return to - from >= 360 || turn(place.azimuth - from) <= turn(to - from);
}

const turn = (angle: number): number => ((angle % 360) + 360) % 360;

/**
 * Places scattered over the head so that none lies nearer to another than the spacing (dart throwing, Cook 1986),
 * until many darts in a row find no room.
 */
export function scatterPoints(
  head: { at(place: HeadCoordinates): Point },
  inside: (place: { azimuth: number; elevation: number }) => boolean,
  spread: { spacing: number; most: number; random: Random },
): { azimuth: number; elevation: number }[] {
  const { spacing, most, random } = spread;
  const places: { azimuth: number; elevation: number }[] = [];
  const taken = new Map<string, Vec3[]>();
  const cellOf = (p: Vec3, dx = 0, dy = 0, dz = 0) =>
    `${Math.floor(p[0] / spacing) + dx} ${Math.floor(p[1] / spacing) + dy} ${Math.floor(p[2] / spacing) + dz}`;
  const isFree = (p: Vec3): boolean => {
    for (let dx = -1; dx <= 1; dx++) {
      for (let dy = -1; dy <= 1; dy++) {
        for (let dz = -1; dz <= 1; dz++) {
          const near = taken.get(cellOf(p, dx, dy, dz));
          if (near?.some((other) => distance(other, p) < spacing)) return false;
        }
      }
    }
    return true;
  };
  // The sine of the elevation is even over a sphere, so that the crown is not crowded.
  for (let misses = 0; misses < 3000 && places.length < most; ) {
    const azimuth = random.between(-180, 180);
    const elevation = (Math.asin(random.between(-1, 1)) * 180) / Math.PI;
    const place = { azimuth, elevation };
    const position = inside(place) ? head.at(place).position : undefined;
    if (!position || !isFree(position)) {
      misses++;
      continue;
    }
    misses = 0;
    places.push(place);
    const cell = cellOf(position);
    taken.set(cell, [...(taken.get(cell) ?? []), position]);
  }
  return places;
}
