import { type CautionInput, cautions } from "../checks/cautions";
import type { Wear } from "../checks/wear";
import type { Part } from "../design/part";
import type { ReportPlan } from "../export/planReport";
import { composeReport, type MeasureInput, type MeasureSource, type Report } from "../export/report";
import type { StlAudit } from "../export/stlAudit";
import { meshVolume, tubeVolumeAndLength } from "../geometry/measure";
import type { HeadForm } from "../head/headForm";
import type { MeasureField } from "../head/measurements";
import { LEAST_ADULT_GIRTH } from "../head/population";
import type { Wearer } from "../head/wearer";
import { toleranceOf } from "../head/wearerMeasures";
import { besideFile } from "./besideFile";
import type { Finished } from "./finished";
import type { Weighed } from "./weighing";

/**
 * Measures a finished piece and composes its report.
 * @param audit what its STL was found to be
 * @param wear what was found about fit and wear
 * @param plan how it is printed, where that was planned
 */
export function reportOn(
  finished: Finished,
  { body, mass, fit }: Weighed,
  audit: StlAudit,
  wear: Wear,
  plan?: ReportPlan,
): Report {
  const { result, parties, head, solid } = finished;
  const { wearer, printer, material } = parties;
  return composeReport({
    headpiece: result.name,
    wearer: { name: wearer.name, measures: measuresOf(wearer, head.form) },
    ease: { offset: head.easeOffset, hair: wearer.hairThickness },
    parameters: result.parameters.map(({ name, unit, default: preset }) => ({
      name,
      unit,
      default: preset,
      value: result.values[name],
    })),
    material,
    print: parties.print.settings,
    body,
    mass,
    filamentDiameter: printer.filamentDiameter,
    solid: {
      closed: audit.closed,
      pieces: audit.pieces,
      voids: audit.voids,
      triangles: audit.triangles,
      crumbs: solid.crumbs,
    },
    plates: [{ printer, fit }],
    parts: result.parts.flatMap(partMeasures),
    wear: { ...wear, findings: wear.findings.map((finding) => besideFile(finding, finished.design)) },
    ...(plan && { plan }),
    messages: finished.messages.map((message) => besideFile(message, finished.design)),
    cautions: cautions(cautionInputOf(finished, { body, mass }, wear)),
  });
}

/** What the cautions beside a piece depend on. */
export const cautionInputOf = (
  { parties: { wearer, material } }: Pick<Finished, "parties">,
  { body, mass }: Pick<Weighed, "body" | "mass">,
  { answers: { sharp } }: Wear,
): CautionInput => ({
  material,
  mass: mass.printed,
  aboveCrown: body.box.most[2] - wearer.measurements.crownHeight,
  ...(sharp && { tips: sharp.tips }),
  child: wearer.measurements.girth < LEAST_ADULT_GIRTH,
});

/** In the order in which they are read; the others follow. */
const firstMeasures = ["girth", "length", "breadth", "crownHeight"];

/** The measures of a wearer's head: the four of the form with what the mesh has, then the others, without the hair. */
export function measuresOf(wearer: Wearer, form: HeadForm): Record<string, MeasureInput> {
  const onMesh: Partial<Record<string, number>> = { ...form.measured };
  return Object.fromEntries(
    Object.entries(wearer.measurements)
      .filter(
        (entry): entry is [string, number] => typeof entry[1] === "number" && entry[0] !== "hairThickness",
      )
      .sort(([a], [b]) => rankOf(a) - rankOf(b))
      .map(([name, value]) => {
        const estimate = wearer.estimated.find(({ field }) => field === name);
        const error = wearer.measuringErrors?.[name as MeasureField];
        const onHead = onMesh[name];
        return [
          name,
          {
            value,
            source: sourceOf(wearer, name),
            ...(estimate && { standardError: estimate.standardError }),
            ...(error !== undefined && { tolerance: toleranceOf(error) }),
            ...(onHead !== undefined && { onHead }),
          },
        ];
      }),
  );
}

/** A measure by which a scan was scaled is one that was given. */
function sourceOf({ estimated, scanned }: Wearer, name: string): MeasureSource {
  const onScan = scanned?.comparisons.find(({ field }) => field === name);
  if (onScan && !onScan.isScale) return "scanned";
  return estimated.some(({ field }) => field === name) ? "estimated" : "given";
}

const rankOf = (measure: string): number => {
  const rank = firstMeasures.indexOf(measure);
  return rank < 0 ? firstMeasures.length : rank;
};

function partMeasures(
  part: Part,
): { name: string; kind: "tube" | "solid"; length?: number; volume: number }[] {
  if (part.kind === "cut") return [];
  if (part.kind === "solid") {
    return [{ name: part.name, kind: "solid", volume: Math.abs(meshVolume(part.mesh)) }];
  }
  const { length, volume } = tubeVolumeAndLength(part.shape);
  return [{ name: part.name, kind: "tube", length, volume }];
}
