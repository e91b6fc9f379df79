import type { TriangleMesh } from "../geometry/mesh";
import { MessageError } from "../message";
import type { PlacedScan, ScanResidual } from "./placedScan";
import type { ScanOpenings } from "./scanOpenings";
import type { ScanRequest } from "./scanRequest";
import { sideOf } from "./scanSides";
import { likelyUnit, unitNamed } from "./scanUnits";

/** A scan that differs from the head form by more than this median above the girth is no head, mm. */
export const mostMedian = 12;
/** Nor is one whose mean distance, face and nape included and none counted above 15 mm, is more than this, mm. */
const mostMean = 7;
/** Distances are looked for up to this, mm. */
export const farthest = 40;

/** Whether what fits best is a head: by its distances above the girth and its mean distance, mm. */
export const isHead = ({ median }: ScanResidual, mean: number): boolean =>
  median <= mostMedian && mean <= mostMean;

/** What is said where no head was found: what was, and what would be right. */
export function noHeadFound(
  mesh: TriangleMesh,
  residual: ScanResidual | undefined,
  cost: number | undefined,
): MessageError {
  return new MessageError([
    {
      id: "scan-no-head",
      severity: "error",
      text: `No head was found in the mesh: ${whatWasFound(mesh, residual, cost)}.`,
      suggestion:
        "Give the mesh of one head with the crown and, best, the face; a neck and shoulders may be there. Leave away the room round it, and check the wearer's measurements.",
    },
  ]);
}

function whatWasFound(
  { positions, triangles }: TriangleMesh,
  residual: ScanResidual | undefined,
  cost: number | undefined,
): string {
  if (triangles.length === 0) return "it has no triangle with an area";
  if (residual === undefined || cost === undefined) {
    const extents = [0, 1, 2].map((axis) => {
      let [least, most] = [Infinity, -Infinity];
      for (let i = axis; i < positions.length; i += 3) {
        least = Math.min(least, positions[i]);
        most = Math.max(most, positions[i]);
      }
      return Number((most - least).toPrecision(4));
    });
    return `nothing in it, ${extents.join(" × ")} in its own unit, is as long and broad as a head`;
  }
  const best = "what fits best differs from the head form by";
  if (residual.median > mostMedian) {
    const median = residual.median < farthest ? residual.median.toFixed(1) : `${farthest} or more`;
    return `${best} ${median} mm, the median above the girth, where ${mostMedian} mm is the most`;
  }
  return `${best} ${cost.toFixed(1)} mm, the mean over crown, face and nape, where ${mostMean} mm is the most`;
}

/** What is said where a scan fits no unit and there is nothing to scale it by. */
export function noPlausibleSize(fittedScale: number): MessageError {
  return new MessageError([
    {
      id: "scan-no-scale",
      severity: "error",
      text: `The scan has a head's size in no known unit: one of its units would be about ${Number(fittedScale.toPrecision(3))} mm.`,
      suggestion:
        'Measure the girth round the head, or the length or the breadth with calipers, and give it: the scan is scaled by it. Or state its "unit".',
    },
  ]);
}

/** What is said where a scan cannot tell the girth, since it is open there. */
export function girthIsOpen({ gap, towards }: ScanOpenings): MessageError {
  return new MessageError([
    {
      id: "scan-girth-open",
      severity: "error",
      field: "scan.file",
      text: `The scan is open over ${gap.toFixed(0)}° at the level of the girth, ${sideOf(towards)}: neither its girth nor its size can be measured.`,
      suggestion:
        "Scan the head closed all round above the ears, or leave the scan away and give the measures.",
    },
  ]);
}

/** What is said where a scan's own size is no head's. */
export function notHuman(
  { measured, fittedScale, scaledBy }: PlacedScan,
  { unit }: ScanRequest,
): MessageError {
  const likely = likelyUnit(fittedScale, false);
  const basis = scaledBy
    ? `scaled by its ${scaledBy}`
    : unit
      ? `in ${unitNamed(unit).name}`
      : "at its own size";
  const hint =
    likely && likely.key !== unit
      ? `It looks to be in ${likely.name}: write "unit": "${likely.key}".`
      : undefined;
  return new MessageError([
    {
      id: "scan-not-human",
      severity: "error",
      field: scaledBy ? `scan.scaledBy` : unit ? "scan.unit" : "scan.file",
      text: `The scan's girth, ${basis}, is ${Number(measured.girth.toPrecision(4))} mm, which no human has.`,
      suggestion: hint ?? "Measure the girth round the head and give it, so that the scan is scaled by it.",
    },
  ]);
}
