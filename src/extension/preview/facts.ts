import type { Fact, PartFacts } from "../../preview/protocol";
import type { DesignRecord } from "../builds/designRecord";
import { isOutdated } from "../builds/designRecord";
import type { Localiser } from "../localiser";

type Known = Pick<DesignRecord, "facts" | "plate" | "report" | "reportChange" | "change" | "status">;

/**
 * What is said of the whole piece, in the order in which a maker asks. It grows while a build goes on; figures of the
 * solid are left out as long as they are those of an older text.
 */
export function factsOf(record: Known, l10n: Localiser): Fact[] {
  const { facts, plate, report } = record;
  const isFresh = report !== undefined && !isOutdated(record as DesignRecord);
  const found: Fact[] = [];
  if (facts) found.push({ label: l10n.t("Wearer"), value: facts.wearer });
  if (isFresh) {
    found.push(
      { label: l10n.t("Mass"), value: l10n.t("{0} g printed", round(report.massPrintedG)) },
      {
        label: l10n.t("Box"),
        value: l10n.t(
          "{0} × {1} × {2} mm",
          Math.round(report.boxMm.width),
          Math.round(report.boxMm.depth),
          Math.round(report.boxMm.height),
        ),
      },
    );
  }
  if (plate) {
    found.push({
      label: l10n.t("Plate"),
      value: `${plate.printer}: ${plate.fits ? l10n.t("fits, {0}", plate.summary) : plate.summary}`,
      tone: plate.fits ? "good" : "bad",
    });
  }
  if (isFresh) {
    const isOne = report.pieces === 1 && report.closed;
    found.push(
      {
        label: l10n.t("Filament"),
        // As soon as the print is planned, supports count too.
        value: l10n.t("{0} m of {1}", round(report.plan?.metres ?? report.filamentM), report.material.name),
      },
      {
        label: l10n.t("Solid"),
        value: isOne ? l10n.t("one closed piece") : l10n.t("{0} pieces", report.pieces),
        tone: isOne ? "good" : "bad",
      },
      { label: l10n.t("Volume"), value: l10n.t("{0} cm³", round(report.volumeCm3)) },
    );
  }
  if (facts) {
    found.push({
      label: l10n.t("Ease"),
      value: l10n.t("{0} mm all round, {1} mm of hair", round(facts.ease.offset), round(facts.ease.hair)),
    });
    found.push({
      label: l10n.t("Parts"),
      value: String(facts.parts.filter(({ kind }) => kind !== "cut").length),
    });
  }
  return found;
}

/** The parts with their share of the mass, where the solid they belong to is known. */
export function partFactsOf(record: Known): PartFacts[] {
  const { facts, report } = record;
  const masses =
    report && !isOutdated(record as DesignRecord)
      ? new Map(report.parts.map(({ name, massPrintedG }) => [name, massPrintedG]))
      : undefined;
  return (facts?.parts ?? []).map((part) => {
    const mass = masses?.get(part.name);
    return { ...part, ...(mass !== undefined && { mass }) };
  });
}

/** One decimal below 100, none above. */
const round = (value: number): number =>
  Math.abs(value) < 100 ? Math.round(value * 10) / 10 : Math.round(value);
