import type { Orientation } from "../../orientation";
import type { PrintSettings } from "../../printSettings";
import type { WeakArm } from "../plan";

/** A way up that is compared with others. */
export interface OrientationCandidate {
  /** What it is called among the others: "as designed", "least support". */
  readonly name: string;
  readonly orientation: Orientation;
  /** The piece has room on the plate this way up. */
  readonly fits: boolean;
}

/** One way to print a piece. */
export interface Variant {
  readonly settings: PrintSettings;
  /** Index among the candidates. */
  readonly orientation: number;
}

/** What a way of printing takes. */
export interface PrintEstimate {
  readonly hours: number;
  /** All filament: piece, supports, brim. */
  readonly grams: number;
  readonly metres: number;
  /** In the workshop's currency, where prices are known. */
  readonly price?: number;
  /** Of the price what the hours cost; absent: nothing. */
  readonly hoursPrice?: number;
  readonly spools: number;
}

/** What ways of printing are judged by. */
export interface PrintEvaluator {
  /**
   * What a variant takes. Variants with the same `geometryKey` are asked one after the other, so that one that keeps the
   * geometry of the last answers at once. Where it returns a promise, others have their turn.
   */
  estimate(variant: Variant): PrintEstimate | Promise<PrintEstimate>;
  /** The weakest arm of the piece so printed, undefined where it has no free arm; absent: strength is not known. Cheap. */
  weakest?(variant: Variant): WeakArm | undefined;
}

/** The settings that are varied, in the order in which they are told. */
export const variedNames = ["layerHeight", "shells", "infill", "supportShare"] as const;
export type VariedName = (typeof variedNames)[number];

/** What variants have in common whose paths run alike: only shares of infill and support may differ. */
export const geometryKey = ({ settings, orientation }: Variant): string =>
  `${orientation} ${settings.layerHeight} ${settings.shells}`;

/** The same way of printing has the same key. */
export const variantKey = (variant: Variant): string =>
  `${geometryKey(variant)} ${variant.settings.infill} ${variant.settings.supportShare}`;

/** A variant with some settings in place of its own. */
export const withSettings = (variant: Variant, settings: Partial<PrintSettings>): Variant => ({
  ...variant,
  settings: { ...variant.settings, ...settings },
});
