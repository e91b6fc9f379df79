import type { WeakArm } from "../plan";
import { geometryKey, type PrintEstimate, type PrintEvaluator, type Variant, variantKey } from "./variant";

/** Estimate and strength of one variant. */
export interface PrintFigures extends PrintEstimate {
  readonly weakest?: WeakArm;
}

/** Every variant is evaluated once; how many geometries that took is counted. */
export class Evaluations {
  readonly #evaluator: PrintEvaluator;
  readonly #signal?: AbortSignal;
  readonly #known = new Map<string, PrintFigures>();
  readonly #arms = new Map<string, WeakArm | undefined>();
  readonly #geometries = new Set<string>();

  constructor(evaluator: PrintEvaluator, signal?: AbortSignal) {
    this.#evaluator = evaluator;
    this.#signal = signal;
  }

  /** Geometries that were made so far. */
  get geometries(): number {
    return this.#geometries.size;
  }

  /** Variants that were evaluated so far. */
  get count(): number {
    return this.#known.size;
  }

  get knowsStrength(): boolean {
    return this.#evaluator.weakest !== undefined;
  }

  /** Whether the paths of a variant were made before. */
  hasGeometry(variant: Variant): boolean {
    return this.#geometries.has(geometryKey(variant));
  }

  /** The weakest arm of a variant; undefined where there is no free arm or strength is not known. */
  weakest(variant: Variant): WeakArm | undefined {
    const { shells, infill, lineWidth } = variant.settings;
    const key = `${variant.orientation} ${shells} ${infill} ${lineWidth}`;
    if (!this.#arms.has(key)) {
      const arm = this.#evaluator.weakest?.(variant);
      if (arm && !(arm.factor >= 0)) {
        throw new RangeError(`The factor of the weakest arm is ${arm.factor}: it must be zero or more.`);
      }
      this.#arms.set(key, arm);
    }
    return this.#arms.get(key);
  }

  /**
   * @throws the signal's reason once it is aborted.
   * @throws RangeError where the evaluator gives no number.
   */
  async figures(variant: Variant): Promise<PrintFigures> {
    this.#signal?.throwIfAborted();
    const key = variantKey(variant);
    const known = this.#known.get(key);
    if (known) return known;
    const estimate = await this.#evaluator.estimate(variant);
    this.#signal?.throwIfAborted();
    for (const name of ["hours", "grams", "metres", "price", "hoursPrice", "spools"] as const) {
      const value = estimate[name];
      const mayLack = name === "price" || name === "hoursPrice";
      if (value === undefined ? !mayLack : !(value >= 0 && value < Infinity)) {
        throw new RangeError(`The estimate's ${name} are ${value}: a number of zero or more is needed.`);
      }
    }
    this.#geometries.add(geometryKey(variant));
    const weakest = this.weakest(variant);
    const figures = { ...estimate, ...(weakest && { weakest }) };
    this.#known.set(key, figures);
    return figures;
  }
}
