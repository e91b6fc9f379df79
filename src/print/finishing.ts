import type { PrintSettings } from "../printSettings";

/** What is sanded, primed and painted. Areas in mm². */
export interface FinishingInput {
  /** All surface of the solid. */
  readonly surface: number;
  /** Of it, what no brush reaches: the walls of voids. */
  readonly enclosed?: number;
  /** Of it, what faces the head and is left bare. */
  readonly inner?: number;
  /** Surface that supports hold up, and that they stand on. */
  readonly contactArea: number;
  readonly landingArea: number;
  readonly settings: Pick<PrintSettings, "primerCoverage" | "primerCoats" | "paintCoverage" | "paintCoats">;
}

/** What finishing takes. */
export interface Finishing {
  readonly paintAreaCm2: number;
  readonly primerMl: number;
  readonly paintMl: number;
  /** Surface that supports leave rough. */
  readonly scarCm2: number;
  /** What the figures were reckoned from, in one sentence. */
  readonly basis: string;
}

const mm2PerCm2 = 100;
const mm2PerM2 = 1e6;
const mlPerLitre = 1000;

/**
 * Area to paint, primer and paint for it, and the scars of supports to be smoothed first. Millilitres are area by coverage
 * (m² a litre and coat), times coats.
 * @throws RangeError when an area is negative or not finite, when what is left out is more than there is, or when a
 * coverage is not positive or a number of coats negative.
 */
export function finishing(input: FinishingInput): Finishing {
  const { surface, enclosed = 0, inner = 0, contactArea, landingArea, settings } = input;
  for (const [name, area] of Object.entries({ surface, enclosed, inner, contactArea, landingArea })) {
    if (!Number.isFinite(area) || area < 0) {
      throw new RangeError(`The area "${name}" is ${area} mm²: it is a finite number from 0.`);
    }
  }
  const painted = surface - enclosed - inner;
  // Areas that were summed in another order may differ in the last digits.
  if (painted < -1e-6 * surface) {
    throw new RangeError(
      `${enclosed} mm² enclosed and ${inner} mm² facing the head are more than the ${surface} mm² of surface.`,
    );
  }
  const area = Math.max(0, painted);
  const { primerCoverage, primerCoats, paintCoverage, paintCoats } = settings;
  return {
    paintAreaCm2: area / mm2PerCm2,
    primerMl: millilitres(area, primerCoverage, primerCoats, "primer"),
    paintMl: millilitres(area, paintCoverage, paintCoats, "paint"),
    scarCm2: (contactArea + landingArea) / mm2PerCm2,
    basis:
      `Primer: ${coats(primerCoats)} at ${primerCoverage} m² a litre; paint: ${coats(paintCoats)} at ${paintCoverage} m² a litre; ` +
      `${inner > 0 ? "the inner surface is left bare; " : ""}what stays in the brush or drifts past comes on top.`,
  };
}

const coats = (count: number): string => `${count} ${count === 1 ? "coat" : "coats"}`;

function millilitres(area: number, coverage: number, coatCount: number, what: string): number {
  if (!(coverage > 0) || !Number.isFinite(coverage)) {
    throw new RangeError(`A litre of ${what} covers ${coverage} m²: it is a finite number above 0.`);
  }
  if (!(coatCount >= 0) || !Number.isFinite(coatCount)) {
    throw new RangeError(`${coatCount} coats of ${what}: it is a number from 0.`);
  }
  return (area / mm2PerM2 / coverage) * mlPerLitre * coatCount;
}
