import type { Vec3 } from "../../geometry/vector";
import type { OrientationFigures } from "./quickFigures";

/** A direction that was looked at cell by cell: what closed form says of it, and what is so. */
export interface SampledDirection {
  readonly up: Vec3;
  readonly quick: Pick<OrientationFigures, "supportVolume" | "contactArea">;
  readonly seen: Pick<OrientationFigures, "supportVolume" | "contactArea" | "thinColumns">;
}

/** How supports of a direction differ from those of closed form. */
export interface LandingRatios {
  /** Volume and touched surface over those of closed form. */
  readonly volume: number;
  readonly contact: number;
  /** Thin columns for a mm² of surface that is held up in closed form. */
  readonly thin: number;
}

/** Angle over which neighbouring directions speak for each other, radians. */
const reach = 0.3;

/**
 * How much of the way to the plate supports really stand on, and how many of them are thin, for any direction: closed form
 * does not know what lies below. Measured in some directions, spread over the sphere, and carried over to those between
 * by a weighted mean (Nadaraya 1964, Watson 1964: kernel regression; a Gaussian of the angle), as quotients of sums.
 */
export class LandingField {
  readonly #samples: readonly SampledDirection[];

  constructor(samples: readonly SampledDirection[]) {
    this.#samples = samples;
  }

  at([x, y, z]: Vec3): LandingRatios {
    let [volume, quickVolume, contact, quickContact, thin] = [0, 0, 0, 0, 0];
    for (const { up, quick, seen } of this.#samples) {
      // 2 − 2·cos is the square of the chord, near enough the square of the angle.
      const chord = 2 - 2 * (x * up[0] + y * up[1] + z * up[2]);
      const weight = Math.exp(-chord / (reach * reach)) + 1e-12;
      volume += weight * seen.supportVolume;
      quickVolume += weight * quick.supportVolume;
      contact += weight * seen.contactArea;
      quickContact += weight * quick.contactArea;
      thin += weight * seen.thinColumns;
    }
    return {
      volume: quickVolume > 0 ? volume / quickVolume : 1,
      contact: quickContact > 0 ? contact / quickContact : 1,
      thin: quickContact > 0 ? thin / quickContact : 0,
    };
  }
}
