import type { Material } from "../../checks/material";
import type { Printer } from "../../checks/printer";
import type { Vec3 } from "../../geometry/vector";
import type { FillSettings, PrintSettings } from "../../printSettings";
import { layerTotals } from "../layers/filament";
import { type LayerSections, layerSections } from "../layers/layerSections";
import { fillLayers } from "../layers/planLayers";
import type { PlacedPiece } from "../placedPiece";
import type { WeakArm } from "../plan";
import { findSupport } from "../support/findSupport";
import type { Support, SupportLayers } from "../support/support";
import { supportLayers } from "../support/supportLayers";
import { geometryKey, type PrintEstimate, type PrintEvaluator, type Variant } from "./variant";

export interface EstimatorInput {
  /** The piece as it lies on the plate, by the way up's index among the candidates. */
  readonly placedOf: (orientation: number) => PlacedPiece;
  readonly printer: Printer;
  readonly material: Material;
  /** The weakest arm when a direction of the head frame looks up, filled so; absent: strength is not known. */
  readonly weakest?: (up: Vec3, fill: FillSettings) => WeakArm | undefined;
  /** What is held up; found on a grid of `cell` unless given. */
  readonly supportOf?: (placed: PlacedPiece, settings: PrintSettings) => Support;
  /** Layers are looked at closely at most this far apart, mm; 3 unless given. */
  readonly sampleEvery?: number;
  /** Side of a cell of supports, mm; 1 unless given. */
  readonly cell?: number;
}

/** So much is kept of each kind: what a table and a wish after it lay paths for. */
const mostKept = 100;

interface Geometry {
  readonly sections: LayerSections;
  readonly held: SupportLayers;
}

/**
 * Estimates of ways to print a piece, from its layers and supports. What does not change is kept: the placed piece and the
 * supports of a way up, sections of these and of a layer height and shells; infill and support share only fill them anew.
 *
 * Supports are found once a way up, as for layers of half the nozzle: the height of a layer only decides whether what is
 * lower than one is held up. Sections and grid are coarser than those of a whole plan, by about 1 % of what it says.
 */
export function printEstimator(input: EstimatorInput): PrintEvaluator {
  const { printer, material, weakest, sampleEvery = 3, cell = 1 } = input;
  const supportOf =
    input.supportOf ??
    ((placed: PlacedPiece, settings: PrintSettings) => findSupport(placed, settings, { cell }));
  const placedPieces = new Map<number, PlacedPiece>();
  const supports = new Map<string, Support>();
  const geometries = new Map<string, Geometry>();
  const placedOf = (orientation: number) =>
    kept(placedPieces, orientation, () => input.placedOf(orientation));

  const geometryOf = (variant: Variant): Geometry => {
    const { settings, orientation } = variant;
    const { lineWidth, topLayers, bottomLayers, brimWidth } = settings;
    const { overhangAngle, supportGap, contactLayers, supportShare } = settings;
    const supportKey = [orientation, overhangAngle, supportGap, supportShare > 0].join(" ");
    const shape = [geometryKey(variant), lineWidth, topLayers, bottomLayers, brimWidth];
    return kept(geometries, [...shape, supportKey, contactLayers].join(" "), () => {
      const placed = placedOf(orientation);
      const sections = layerSections(placed, settings, { sampleEvery });
      const support = kept(supports, supportKey, () =>
        supportOf(placed, { ...settings, layerHeight: printer.nozzle / 2 }),
      );
      const { count } = sections;
      return {
        sections,
        held: supportLayers(support, settings, { count, layerHeight: settings.layerHeight }),
      };
    });
  };

  return {
    estimate(variant): PrintEstimate {
      const { sections, held } = geometryOf(variant);
      const plan = fillLayers(sections, variant.settings, printer, held);
      const { hours, grams, metres, price, spools } = layerTotals(plan, material, printer);
      return {
        hours,
        grams,
        metres,
        spools,
        ...(price !== undefined && { price, hoursPrice: hours * (printer.pricePerHour ?? 0) }),
      };
    },
    ...(weakest && {
      weakest({ orientation, settings }: Variant) {
        // The third row of the rotation is what looks up.
        const [, , , , , , x, y, z] = placedOf(orientation).rotation;
        return weakest([x, y, z], settings);
      },
    }),
  };
}

/** The kept value of a key, else a new one; the one that was kept first goes when there are many. */
function kept<Key, Value>(values: Map<Key, Value>, key: Key, make: () => Value): Value {
  const known = values.get(key);
  if (known !== undefined) return known;
  const value = make();
  if (values.size >= mostKept) values.delete(values.keys().next().value as Key);
  values.set(key, value);
  return value;
}
