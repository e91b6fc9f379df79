import type { Vec3 } from "../../geometry/vector";
import type { WornPiece } from "../wornPiece";
import { armShapes, armsUnderLoad } from "./freeArms";
import type { Skeleton } from "./skeleton";
import {
  type ArmLoads,
  type ArmSection,
  type ArmShape,
  type LoadedArm,
  type PrintedAs,
  stressPerNewton,
} from "./worstSection";

/** The arm of a piece with the least safety factor, at its worst section. */
export interface WeakestArm {
  readonly part: string;
  /** Index of the part. */
  readonly index: number;
  /** Strength over stress under the handling load, at the angle to the layers there. */
  readonly factor: number;
  /** The worst section, mm. */
  readonly at: Vec3;
}

/**
 * The arms of a piece with all their sections, found once, so that *how strong is it, printed that way up and filled so?*
 * is answered without a new walk over the piece. What a section bears per newton is kept for the last filling: another
 * direction of the same filling costs one formula a section.
 */
export class ArmStrength {
  readonly skeleton: Skeleton;
  readonly #piece: Pick<WornPiece, "material">;
  readonly #loads: ArmLoads;
  readonly #shapes: readonly ArmShape[];
  readonly #sections: readonly ArmSection[];
  readonly #armOf: Int32Array;
  readonly #tangents: Float64Array;
  readonly #perNewton: Float64Array;
  #fill = "";

  constructor(skeleton: Skeleton, piece: WornPiece, loads: ArmLoads) {
    this.skeleton = skeleton;
    this.#piece = piece;
    this.#loads = loads;
    this.#shapes = armShapes(skeleton, piece);
    this.#sections = this.#shapes.flatMap(({ sections }) => sections);
    this.#armOf = Int32Array.from(
      this.#shapes.flatMap(({ sections }, arm) => Array.from(sections, () => arm)),
    );
    this.#tangents = Float64Array.from(this.#sections.flatMap(({ place }) => place.tangent));
    this.#perNewton = new Float64Array(this.#sections.length);
  }

  /** Every arm under its load, the weakest first. */
  arms(printed: PrintedAs): LoadedArm[] {
    return armsUnderLoad(this.#shapes, this.#piece, this.#loads, printed);
  }

  /**
   * The weakest arm, as `arms` has it first; undefined for a piece without arms. The strength at an angle to the layers is
   * Hankinson's (see `strengthAtAngle`), with the sine between the arm and the printer's vertical.
   * @throws RangeError when `up` is not finite
   */
  weakest({ up, fill }: PrintedAs): WeakestArm | undefined {
    if (!up.every(Number.isFinite)) throw new RangeError(`Up is (${up.join(", ")}): it must be finite.`);
    this.#fillWith(fill);
    const { handling, layerStrength } = this.#loads;
    const along = this.#piece.material.strength;
    const across = along * layerStrength;
    const perNewton = this.#perNewton;
    const t = this.#tangents;
    let least = Infinity;
    let at = -1;
    for (let i = 0; i < perNewton.length; i++) {
      const sine = t[3 * i] * up[0] + t[3 * i + 1] * up[1] + t[3 * i + 2] * up[2];
      const square = Math.min(1, sine * sine);
      const factor = (along * across) / (along * square + across * (1 - square)) / (perNewton[i] * handling);
      if (factor < least) {
        least = factor;
        at = i;
      }
    }
    if (at < 0) return undefined;
    const { part, index } = this.#shapes[this.#armOf[at]];
    return { part, index, factor: least, at: this.#sections[at].place.point };
  }

  #fillWith(fill: PrintedAs["fill"]): void {
    const key = `${fill.shells} ${fill.lineWidth} ${fill.infill}`;
    if (key === this.#fill) return;
    this.#sections.forEach((section, i) => {
      this.#perNewton[i] = stressPerNewton(section, fill);
    });
    this.#fill = key;
  }
}
