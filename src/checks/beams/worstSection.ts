import { subtract, type Vec3 } from "../../geometry/vector";
import type { FillSettings } from "../../printSettings";
import type { Material } from "../material";
import type { WornPiece } from "../wornPiece";
import type { Neck } from "./necks";
import {
  bendingStressPerNewton,
  type Cavity,
  printedSecondMoments,
  type SectionMoments,
  strengthAtAngle,
} from "./sectionStiffness";
import type { LinePlace } from "./tubeLine";

/** What arms are held against. */
export interface ArmLoads {
  /** N at the arm's far end, in the worst direction. */
  readonly handling: number;
  readonly snag: number;
  /** Strength across the layers as a share of that along them, 0 to 1. */
  readonly layerStrength: number;
}

/** A part of a piece that is held at one end only, loaded at the far one: its worst section. */
export interface FreeArm {
  readonly part: string;
  /** Index of the part. */
  readonly index: number;
  /** Where the load acts: the farthest place of what hangs on the worst section; the arm's tip unless it bends back. */
  readonly tip: Vec3;
  /** Where the arm leaves what holds it. */
  readonly rootAt: Vec3;
  /** The worst section. */
  readonly at: Vec3;
  /** Length of the arm along its centre line from its root, mm. */
  readonly length: number;
  /** Way along the centre line from the root to the worst section, mm. */
  readonly fromRoot: number;
  /** Radius of the worst section, mm; of one that is not round, half of its width where that is least. */
  readonly radius: number;
  /** Handling load, N. */
  readonly load: number;
  /** Bending moment there under the handling load, N·mm. */
  readonly moment: number;
  /** Greatest bending stress there, MPa. */
  readonly stress: number;
  /** Angle between the arm and the layers there, degrees: 90 where it stands upright. */
  readonly layerAngle: number;
  /** Strength over stress, were it all along the layers, and were it all across them. */
  readonly factorAlong: number;
  readonly factorAcross: number;
  /** Strength over stress at the angle to the layers as the piece is printed: upright, as designed. */
  readonly factor: number;
  /** The same under the snag load. */
  readonly snagFactor: number;
}

/** An arm, and what would make it stronger. */
export interface LoadedArm {
  readonly arm: FreeArm;
  /** How many times as thick its worst section must be for a safety factor, with the same shells and infill. */
  readonly growthFor: (factor: number) => number;
  /** Its section at the root, by which it holds to the first of the bodies there. */
  readonly root?: Neck;
}

/** Half of a section's least width, mm. */
export const halfWidth = ({ half }: SectionMoments, unit: number): number =>
  Math.min(half[0], half[1]) * unit;

/** The empty core of a section by its unit of length, mm. */
type CavityAt = (unit: number) => Cavity | undefined;
const solid: CavityAt = () => undefined;

/** A section nearer to the load than this many of its half widths is a stub, no beam. */
const leastLever = 1;

/** Keeps the section with the least safety factor. */
export class WorstSection {
  readonly #material: Material;
  readonly #print: FillSettings;
  readonly #loads: ArmLoads;
  #factor = Infinity;
  #worst:
    | {
        readonly place: LinePlace;
        readonly moments: SectionMoments;
        readonly tip: Vec3;
        readonly lever: Vec3;
        readonly perNewton: number;
        readonly cavityAt: CavityAt;
      }
    | undefined;

  constructor({ material, print }: Pick<WornPiece, "material" | "print">, loads: ArmLoads) {
    this.#material = material;
    this.#print = print;
    this.#loads = loads;
  }

  get found(): boolean {
    return this.#worst !== undefined;
  }

  /** Looks at one more section. `tip`: where the load acts, mm. */
  look(place: LinePlace, moments: SectionMoments, tip: Vec3, cavityAt: CavityAt = solid): void {
    const [cx, cy] = moments.centroid;
    const middle = [0, 1, 2].map(
      (axis) => place.point[axis] + place.radius * (cx * place.x[axis] + cy * place.y[axis]),
    ) as unknown as Vec3;
    const lever = subtract(tip, middle);
    if (Math.hypot(...lever) < leastLever * halfWidth(moments, place.radius)) return;
    const second = printedSecondMoments(moments, place.radius, this.#print, cavityAt(place.radius));
    const perNewton = bendingStressPerNewton(moments, place.radius, second, place, lever);
    if (!(perNewton > 0) || !Number.isFinite(perNewton)) return;
    const factor = this.#strength(place.tangent[2]) / (perNewton * this.#loads.handling);
    if (!(factor < this.#factor)) return;
    this.#factor = factor;
    this.#worst = { place, moments, tip, lever, perNewton, cavityAt };
  }

  #strength(sine: number): number {
    const along = this.#material.strength;
    return strengthAtAngle(along, along * this.#loads.layerStrength, sine);
  }

  /** The arm whose sections were looked at. One must have been found. */
  arm(
    part: string,
    index: number,
    rootAt: Vec3,
    length: number,
    fromRoot: (place: LinePlace) => number,
  ): LoadedArm {
    const { place, moments, tip, lever, perNewton, cavityAt } = this.#worst!;
    const { handling, snag, layerStrength } = this.#loads;
    const stress = perNewton * handling;
    const along = this.#material.strength;
    const print = this.#print;
    const growthFor = (wanted: number): number => {
      let [low, high] = [1, 1];
      const factorAt = (growth: number): number => {
        const unit = place.radius * growth;
        const second = printedSecondMoments(moments, unit, print, cavityAt(unit));
        return (
          this.#strength(place.tangent[2]) /
          (handling * bendingStressPerNewton(moments, unit, second, place, lever))
        );
      };
      while (factorAt(high) < wanted && high < 64) high *= 2;
      for (let round = 0; round < 40; round++) {
        const middle = (low + high) / 2;
        if (factorAt(middle) < wanted) low = middle;
        else high = middle;
      }
      return high;
    };
    const arm: FreeArm = {
      part,
      index,
      tip,
      rootAt,
      at: place.point,
      length,
      fromRoot: fromRoot(place),
      radius: halfWidth(moments, place.radius),
      load: handling,
      moment: handling * Math.hypot(...lever),
      stress,
      layerAngle: (Math.asin(Math.min(1, Math.abs(place.tangent[2]))) * 180) / Math.PI,
      factorAlong: along / stress,
      factorAcross: (along * layerStrength) / stress,
      factor: this.#factor,
      snagFactor: (this.#factor * handling) / snag,
    };
    return { arm, growthFor };
  }
}
