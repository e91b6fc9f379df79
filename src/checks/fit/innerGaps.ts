import type { WornPiece } from "../wornPiece";
import type { InnerSurface } from "./innerSurface";

/** Where a vertex has no gap to speak of: it does not belong to the inner surface. */
export const noGap = -32_768;

/**
 * At each vertex of the solid, in its order, the distance to the bare head in hundredths of a mm, negative inside it;
 * `noGap` off the inner surface. What a colour map is painted from.
 */
export function innerGaps(piece: WornPiece, { count, samples, bare }: InnerSurface): Int16Array {
  const { vertexCount } = piece.samples;
  const gaps = new Int16Array(vertexCount).fill(noGap);
  for (let i = 0; i < count; i++) {
    const vertex = samples[i];
    if (vertex < vertexCount) gaps[vertex] = Math.round(Math.max(-300, Math.min(300, bare[i])) * 100);
  }
  return gaps;
}
