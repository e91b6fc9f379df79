import { dot, subtract, type Vec3 } from "../../geometry/vector";
import type { FillSettings } from "../../printSettings";
import type { Material } from "../material";
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
  /** Strength over stress at the angle to the layers as the piece is printed. */
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

/** How a piece is printed, as far as the strength of its arms depends on it. */
export interface PrintedAs {
  /** The direction of the piece that looks up, a unit vector in the head frame. */
  readonly up: Vec3;
  readonly fill: FillSettings;
}

/** The direction that looks up in a piece that is printed as designed. */
export const designedUp: Vec3 = [0, 0, 1];

/** A section of an arm and where the load on it acts. */
export interface ArmSection {
  readonly place: LinePlace;
  readonly moments: SectionMoments;
  readonly tip: Vec3;
  /** From the section's centroid to the tip, mm. */
  readonly lever: Vec3;
  readonly cavityAt: CavityAt;
}

/** An arm as it is, however it is printed. */
export interface ArmShape {
  readonly part: string;
  readonly index: number;
  /** Where it leaves what holds it. */
  readonly rootAt: Vec3;
  /** mm along its centre line. */
  readonly length: number;
  /** Way along the centre line from the root to a section, mm. */
  readonly fromRoot: (place: LinePlace) => number;
  readonly sections: readonly ArmSection[];
  /** Its section at the root, by which it holds to the first of the bodies there. */
  readonly root?: Neck;
}

/** A section with its load, mm; undefined for one so near to the load that it is no beam. */
export function armSection(
  place: LinePlace,
  moments: SectionMoments,
  tip: Vec3,
  cavityAt: CavityAt = solid,
): ArmSection | undefined {
  const [cx, cy] = moments.centroid;
  const middle = [0, 1, 2].map(
    (axis) => place.point[axis] + place.radius * (cx * place.x[axis] + cy * place.y[axis]),
  ) as unknown as Vec3;
  const lever = subtract(tip, middle);
  if (Math.hypot(...lever) < leastLever * halfWidth(moments, place.radius)) return undefined;
  return { place, moments, tip, lever, cavityAt };
}

/** Greatest bending stress in a section, MPa per N; 0 where it bears nothing. `growth`: times as thick as it is. */
export function stressPerNewton(
  { place, moments, lever, cavityAt }: ArmSection,
  fill: FillSettings,
  growth = 1,
): number {
  const unit = place.radius * growth;
  const second = printedSecondMoments(moments, unit, fill, cavityAt(unit));
  const perNewton = bendingStressPerNewton(moments, unit, second, place, lever);
  return perNewton > 0 && Number.isFinite(perNewton) ? perNewton : 0;
}

/** An arm under its load, by its section with the least safety factor; undefined where none of them bears anything. */
export function loadedArm(
  { sections, part, index, rootAt, length, fromRoot, root }: ArmShape,
  { strength: along }: Pick<Material, "strength">,
  { handling, snag, layerStrength }: ArmLoads,
  { up, fill }: PrintedAs,
): LoadedArm | undefined {
  let factor = Infinity;
  let perNewton = 0;
  let worst: ArmSection | undefined;
  const strengthOf = ({ place }: ArmSection): number =>
    strengthAtAngle(along, along * layerStrength, dot(place.tangent, up));
  for (const section of sections) {
    const stress = stressPerNewton(section, fill);
    const own = strengthOf(section) / (stress * handling);
    if (!(own < factor)) continue;
    factor = own;
    perNewton = stress;
    worst = section;
  }
  if (!worst) return undefined;
  const found = worst;
  const growthFor = (wanted: number): number => {
    let [low, high] = [1, 1];
    const factorAt = (growth: number): number =>
      strengthOf(found) / (handling * stressPerNewton(found, fill, growth));
    while (factorAt(high) < wanted && high < 64) high *= 2;
    for (let round = 0; round < 40; round++) {
      const middle = (low + high) / 2;
      if (factorAt(middle) < wanted) low = middle;
      else high = middle;
    }
    return high;
  };
  const { place, moments, tip, lever } = found;
  const stress = perNewton * handling;
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
    layerAngle: (Math.asin(Math.min(1, Math.abs(dot(place.tangent, up)))) * 180) / Math.PI,
    factorAlong: along / stress,
    factorAcross: (along * layerStrength) / stress,
    factor,
    snagFactor: (factor * handling) / snag,
  };
  return { arm, growthFor, ...(root && { root }) };
}
