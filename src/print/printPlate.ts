import type { Part, Prop } from "../design/part";
import type { Kernel } from "../geometry/solid/kernel";
import { layerTotals } from "./layers/filament";
import { type LayerSections, layerSections } from "./layers/layerSections";
import { fillLayers } from "./layers/planLayers";
import { withBody } from "./mergedMesh";
import type { PlacedPiece } from "./placedPiece";
import type { PlatePrint, PrintJob } from "./plan";
import { planProps } from "./props/planProps";
import { findSupport } from "./support/findSupport";
import type { Support } from "./support/support";
import { supportLayers } from "./support/supportLayers";

type Job = Pick<PrintJob, "printer" | "material" | "setup">;

/** What stands on a plate, its support and its layers, without props. */
export function printPlate(
  placed: PlacedPiece,
  sections: LayerSections,
  job: Job,
  support: Support = findSupport(placed, job.setup.settings),
): PlatePrint {
  const { settings } = job.setup;
  const held = supportLayers(support, settings, { count: sections.count, layerHeight: settings.layerHeight });
  const layers = fillLayers(sections, settings, job.printer, held);
  return { placed, support, layers, totals: layerTotals(layers, job.material, job.printer) };
}

/**
 * The same plate with props printed beside the piece, in place of the supports that they make needless: those that the
 * design asks for, and where wanted those that the plan proposes. Without any, the plate as it is.
 */
export function printWithProps(
  kernel: Kernel,
  plate: PlatePrint,
  job: Job & { readonly parts: readonly Part[] },
  props: readonly Prop[],
  propose: boolean,
): PlatePrint {
  const { settings } = job.setup;
  const planned = planProps(kernel, plate.placed, plate.support, props, job.parts, settings, {
    propose,
    plate: job.printer.plate,
  });
  if (!planned.mesh) return { ...plate, props: planned };
  const all = withBody(plate.placed, planned.mesh);
  const print = printPlate(all, layerSections(all, settings), job, planned.support);
  const { pieceGrams } = plate.totals;
  return {
    ...print,
    placed: plate.placed,
    props: planned,
    // Props are no part of what is worn.
    totals: { ...print.totals, pieceGrams, wasteGrams: print.totals.grams - pieceGrams },
  };
}
