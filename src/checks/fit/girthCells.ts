import type { WornHead } from "../wornHead";
import type { WornPiece } from "../wornPiece";
import type { InnerSurface } from "./innerSurface";

/** Degrees of elevation in one cell. */
export const levelDegrees = 4;
/** The ring is sought between these elevations: what lies higher is a cap, what lies lower hangs. */
export const lowestElevation = -10;
const highestElevation = 40;
/** A ring that is open by more than this share holds no girth. */
export const leastClosed = 0.75;
/** Of what lies in one cell, this share is the nearest: what the head meets first, less the roughness of a mesh. */
export const nearShare = 0.1;

/** What lies round a head, by level and sector. */
export interface GirthCells {
  readonly sectors: number;
  readonly levels: number;
  /** Places in the inner surface, of each cell: the sectors of the lowest level, then those of the next. */
  readonly members: readonly (readonly number[])[];
}

/** The inner surface of a piece in cells round the head. @param sectorDegrees degrees of azimuth in one */
export function girthCells(
  piece: WornPiece,
  head: WornHead,
  inner: InnerSurface,
  sectorDegrees: number,
): GirthCells {
  const { positions } = piece.samples;
  const sectors = 360 / sectorDegrees;
  const levels = Math.ceil((highestElevation - lowestElevation) / levelDegrees);
  const members = Array.from({ length: sectors * levels }, (): number[] => []);
  for (let i = 0; i < inner.count; i++) {
    const at = 3 * inner.samples[i];
    const { azimuth, elevation } = head.directionOf([positions[at], positions[at + 1], positions[at + 2]]);
    const level = Math.floor((elevation - lowestElevation) / levelDegrees);
    if (level < 0 || level >= levels) continue;
    const sector = Math.floor((azimuth + 180) / sectorDegrees) % sectors;
    members[level * sectors + sector].push(i);
  }
  return { sectors, levels, members };
}
