import { runTime } from "./motion";
import type { Drive } from "./shellPace";

/** Parallel lines that fill a region: their length and the way from line to line, mm, and the time of both, s. */
export interface LineFill {
  readonly length: number;
  readonly seconds: number;
  readonly way: number;
  readonly waySeconds: number;
}

const nothing: LineFill = { length: 0, seconds: 0, way: 0, waySeconds: 0 };

/**
 * Fills a region (area in mm², length of its outline in mm) with lines `apart` (mm): as long as area / apart, as many as
 * Crofton's formula gives, outline / (π × apart), for the mean chord of a plane region is π × area / outline (Santaló
 * 1976, *Integral Geometry and Geometric Probability*, from memory); at least one, also where the region is narrower.
 * Each line counts as a run of the mean length, from corner speed to corner speed, and so does the way to the next.
 */
export function lineFill(
  area: number,
  outline: number,
  apart: number,
  speed: number,
  drive: Drive,
): LineFill {
  if (!(area > 0 && apart < Infinity)) return nothing;
  const length = area / apart;
  const lines = Math.max(1, outline / (Math.PI * apart));
  const { cornerSpeed, acceleration, travel } = drive;
  return {
    length,
    seconds: lines * runTime(length / lines, cornerSpeed, cornerSpeed, speed, acceleration),
    way: (lines - 1) * apart,
    waySeconds: (lines - 1) * runTime(apart, cornerSpeed, cornerSpeed, travel, acceleration),
  };
}

/**
 * Length of outline of a part of what stands in separate places, each taken for a square: of `part` mm² out of `whole`
 * in `places`, mm.
 */
export const outlineOfPlaces = (part: number, whole: number, places: number): number =>
  (4 * Math.sqrt(whole * places) * part) / whole;

/**
 * The mean way between places that lie anyhow over an area (mm²), mm: the shortest tour of n of them is near
 * 0.7124 √(n × area) (Beardwood, Halton, Hammersley 1959, "The shortest path through many points", from memory).
 */
export const wayBetweenPlaces = (area: number, places: number): number => 0.7124 * Math.sqrt(area / places);
