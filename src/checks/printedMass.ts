import type { FillSettings } from "../printSettings";
import type { Material } from "./material";

/** A first estimate of what a piece weighs, before it is cut into layers. */
export interface MassEstimate {
  /** Mass if the piece were solid throughout, g. */
  readonly solid: number;
  /** Mass as printed with shells and infill, without supports, g. */
  readonly printed: number;
  /** Share of the volume that is filled with material, 0 to 1. */
  readonly filledShare: number;
  /** Filament for the printed mass, without supports, m. */
  readonly filament: number;
  /** What the printed mass rests on, as one sentence. */
  readonly basis: string;
}

/**
 * Volume inside shells of the given thickness, mm³: V · (1 − A·t / 2V)², never below zero.
 *
 * Derivation: a long round tube of radius r and length l has V = πr²l and A = 2πrl, so A/2V = 1/r, and what lies
 * inside a shell of thickness t is π(r − t)²l = V·(1 − t/r)² = V·(1 − A·t/2V)². It is exact for that tube whatever
 * its length or number; for other bodies A/2V stands for one over their mean radius. For a ball it is exact to
 * first order in t and a little low beyond (by 3t²/4r² of V).
 */
export function volumeInsideShells(volume: number, area: number, thickness: number): number {
  if (!(volume > 0)) throw new RangeError(`The volume is ${volume} mm³: it must be more than zero.`);
  if (!(area > 0)) throw new RangeError(`The surface area is ${area} mm²: it must be more than zero.`);
  if (!(thickness >= 0)) throw new RangeError(`The shells are ${thickness} mm thick: use zero or more.`);
  const left = Math.max(0, 1 - (area * thickness) / (2 * volume));
  return volume * left * left;
}

/** Metres of filament of the given diameter (mm) that `mass` grams of a material (g/cm³) make. */
export function filamentLength(mass: number, density: number, diameter: number): number {
  if (!(density > 0)) throw new RangeError(`The density is ${density} g/cm³: it must be more than zero.`);
  if (!(diameter > 0)) throw new RangeError(`The filament is ${diameter} mm thick: use more than zero.`);
  // g / (g/cm³) = cm³; a filament of 1 mm² holds 1 cm³ a metre.
  return mass / density / ((Math.PI / 4) * diameter * diameter);
}

/**
 * Solid mass and a first estimate of the printed mass (g) and filament (m) of a piece, from its volume (mm³), its
 * surface area (mm²), the material and the settings. Shells lie on every side, floors and roofs counted as shells;
 * infill fills what is left. Supports, brim and purge are not in it.
 * @throws RangeError for a volume, area, density, diameter, number of shells, line width or infill out of range.
 */
export function printedMass(
  body: { readonly volume: number; readonly area: number },
  material: Pick<Material, "name" | "density">,
  settings: FillSettings,
  filamentDiameter = 1.75,
): MassEstimate {
  const { shells, lineWidth, infill } = settings;
  if (!(Number.isFinite(shells) && shells >= 0)) {
    throw new RangeError(`The number of shells is ${shells}: use zero or more.`);
  }
  if (!(lineWidth > 0)) throw new RangeError(`The line width is ${lineWidth} mm: use more than zero.`);
  if (!(infill >= 0 && infill <= 100)) throw new RangeError(`The infill is ${infill} %: use 0 to 100.`);
  const inside = volumeInsideShells(body.volume, body.area, shells * lineWidth);
  const filledShare = 1 - (inside / body.volume) * (1 - infill / 100);
  const solid = (body.volume / 1000) * material.density;
  const printed = solid * filledShare;
  return {
    solid,
    printed,
    filledShare,
    filament: filamentLength(printed, material.density, filamentDiameter),
    basis:
      `First estimate, before layers: ${shells} ${shells === 1 ? "shell" : "shells"} of ${lineWidth} mm on every ` +
      `side, ${infill} % infill, ${material.name} of ${material.density} g/cm³, as if the piece were round tubes ` +
      "of its mean radius; supports not included.",
  };
}
