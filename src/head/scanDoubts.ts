import type { HeadForm } from "./headForm";
import type { PlacedScan } from "./placedScan";

/** What a fit tells beside the pose, for the doubts. */
export interface ScanEvidence {
  /** Mean distance with front and back changed, against that as it is: 1 where they cannot be told apart. */
  readonly frontClearness: number;
  /** Mean distance of the face, mm. */
  readonly face: number;
  /** Share of the form above the girth that the scan passes by. */
  readonly missing: number;
  /** How far the placed scan stands off the form above the girth, median, mm; negative within it. */
  readonly standsOff: number;
}

/** The shapes differ by more than this median above the girth, mm: the fit is poor. */
export const poorFit = 6;
const tellingGirth = 0.01;
const leastClearness = 1.12;
/** A face farther off than this is none, mm. */
const noFace = 7;
const mostMissing = 0.02;
const mostStandingOff = 4;

type Placed = Omit<PlacedScan, "doubts" | "shapeDoubts">;

const inMm = (value: number): string => `${value.toFixed(1)} mm`;

/** What the maker of a scan should know about its size. */
export function sizeDoubts(scan: Placed, form: HeadForm): string[] {
  const { girth } = form.measurements;
  if (scan.scaledBy !== undefined && scan.unit === "no known unit") {
    return [
      `the scan has no plausible size in metres, centimetres, inches or millimetres: it was scaled by ${Number(scan.scale.toPrecision(5))}, so that its ${scan.scaledBy}, with hair where it has some, is the measured ${inMm(scan.measured[scan.scaledBy])}`,
    ];
  }
  if (scan.scaledBy === undefined && Math.abs(scan.measured.girth / girth - 1) > tellingGirth) {
    return [
      `the scan keeps its own size, in ${scan.unit}: its girth is ${inMm(scan.measured.girth)} where ${inMm(girth)} was measured`,
    ];
  }
  return [];
}

/** What the maker of a scan should know or look at beside its size, a sentence each. */
export function scanDoubts(scan: Placed, evidence: ScanEvidence): string[] {
  const doubts: string[] = [];
  const { cleaning } = scan;
  if (scan.shapeResidual.median > poorFit) {
    doubts.push(
      `the scan fits the head form poorly: half of it differs by more than ${inMm(scan.shapeResidual.median)} above the girth; see whether it stands upright and looks forward`,
    );
  }
  if (evidence.frontClearness < leastClearness || evidence.face > noFace) {
    doubts.push(
      `front and back of the scan can hardly be told apart${evidence.face > noFace ? ", since it shows no face" : ""}; see whether it looks forward`,
    );
  }
  if (evidence.missing > mostMissing) {
    doubts.push(
      `the scan has a hole over ${Math.round(100 * evidence.missing)} % of the head above the girth: there the checks see its rim instead`,
    );
  }
  if (scan.scaledBy === undefined && evidence.standsOff > mostStandingOff) {
    doubts.push(
      `above the girth the scan stands ${inMm(evidence.standsOff)} off the head form: it has hair or a cap, which counts as head here, or the head is larger than measured`,
    );
  }
  if (cleaning.loosePieces > 0) {
    doubts.push(
      `${cleaning.loosePieces} loose ${cleaning.loosePieces === 1 ? "piece" : "pieces"} with ${(100 * cleaning.looseShare).toFixed(1)} % of the scan's surface ${cleaning.loosePieces === 1 ? "was" : "were"} left out`,
    );
  }
  if (cleaning.innerPieces > 0) {
    doubts.push(
      `${cleaning.innerPieces} ${cleaning.innerPieces === 1 ? "piece" : "pieces"} inside the head ${cleaning.innerPieces === 1 ? "was" : "were"} left out`,
    );
  }
  return doubts;
}
