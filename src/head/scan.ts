import type { TriangleMesh } from "../geometry/mesh";
import { cleanMesh } from "../geometry/meshCleaning";
import type { HeadForm } from "./headForm";
import type { PlacedScan, ScanResidual } from "./placedScan";
import { poorFit, type ScanEvidence, scanDoubts, sizeDoubts } from "./scanDoubts";
import {
  costOf,
  type Fit,
  type FitPoints,
  fitPoints,
  lieOf,
  onCranium,
  onFace,
  refine,
  ScanCloud,
  whereBare,
} from "./scanFit";
import { measureScan } from "./scanMeasuring";
import { placeByPoints } from "./scanPoints";
import { angleBetween, asItIs, inScan, matrixOf, poseAbout, type ScanPose } from "./scanPose";
import { farthest, isHead, mostMedian, noHeadFound, noPlausibleSize } from "./scanRefusal";
import type { ScalingMeasure, ScanPoints, ScanUnit } from "./scanRequest";
import {
  faceToTheBack,
  fineCap,
  fineRefining,
  roundTheHead,
  type SearchResult,
  searchHead,
} from "./scanSearch";
import { type LengthUnit, lengthUnits, likelyUnit, unitNamed } from "./scanUnits";

export type { PlacedScan, ScanResidual } from "./placedScan";

/** A fit better than this in a plausible unit ends the search, mm. */
const goodFit = 4.5;
/** How far a fit may move a scan that is believed to stand in the head frame: mm, radians. */
const standsWithin = { distance: 8, angle: (5 * Math.PI) / 180 };
/** Points of the form that a scan is fitted to. */
const fittedPoints = 2400;
/** Hair is thought of where a scan stands off the cranium by more than this median, mm. */
const leastHair = 2.5;
/** A head does not seem larger by hair than to one part in this. */
const mostHaired = 0.7;
/** It is believed where what is bare then fits to less than this share of the distance. */
const hairTells = 0.85;

/** What is known of a scan beforehand. */
export interface ScanPlacing {
  /** Three points of it; found by itself unless given. */
  readonly points?: ScanPoints;
  /** The unit that it is in: it keeps its own size. */
  readonly unit?: ScanUnit;
  /** The measure that comes true, mm, whatever the unit. */
  readonly scaledBy?: { readonly measure: ScalingMeasure; readonly mm: number };
  /** The form is the mean head's: nothing was measured that the size could be held against. */
  readonly isMeanForm?: boolean;
}

/**
 * Brings a real head's mesh into the head frame (origin midway between the tragions, +X right, +Y forward, +Z up, mm)
 * by its fit to the head form of the wearer's measurements. One that stands there already is left as it is.
 *
 * The origin and the axes are those of the form where it fits the scan best, at any size. In metres, centimetres,
 * inches or millimetres, where the head has a plausible size (within 12 % of the form), it keeps it: that it differs
 * from the measurements is what the maker wants to learn. Else it is scaled to the measured girth. What is known
 * beforehand goes before all that.
 * @param given a mesh in any units and any pose, dirty, open, with neck, shoulders or a body; never mirrored
 * @throws MessageError when no head is found in it, when the points cannot be a head's, or when it has no plausible
 * size and nothing to be scaled by
 */
export function placeHeadScan(given: TriangleMesh, form: HeadForm, placing: ScanPlacing = {}): PlacedScan {
  const { mesh, ...cleaning } = cleanMesh(given);
  const points = fitPoints(form, fittedPoints);
  const pointed = placing.points && placeByPoints(mesh, form, points, placing.points);
  const standing = pointed ? undefined : whereItStands(mesh, form, points);
  const found: SearchResult | undefined = pointed
    ? { ...pointed, reversed: { ...pointed.best, cost: Infinity } }
    : (standing ?? search(mesh, form, points));
  const shapeResidual = found && residualOf(points, found.cloud, found.best.pose);
  if (found === undefined || shapeResidual === undefined || !isHead(shapeResidual, found.best.cost)) {
    throw noHeadFound(mesh, shapeResidual, found?.best.cost);
  }
  const fitted = found.best.pose;
  const isMeasured = !placing.isMeanForm;
  const { unit, frame } = pointed
    ? { unit: likelyUnit(fitted.scale, isMeasured), frame: fitted }
    : unitAndFrame(points, found, isMeasured);
  const origin = inScan(frame, [0, 0, 0]);
  const measuredIn = (pose: ScanPose) => measureScan(placed(mesh, pose), form, pose.scale / frame.scale);
  const { scaledBy } = placing;
  const own = placing.unit ? unitNamed(placing.unit) : unit;
  if (!own && !scaledBy && placing.isMeanForm) throw noPlausibleSize(fitted.scale);
  const by = scaledBy ?? (own ? undefined : { measure: "girth" as const, mm: form.measurements.girth });
  // What is measured grows with the scale.
  const scale = by
    ? (frame.scale * by.mm) / measuredIn(poseAbout(frame.rotation, frame.scale, origin))[by.measure]
    : (own as LengthUnit).mm;
  const pose = standing && scale === 1 ? asItIs : poseAbout(frame.rotation, scale, origin);
  const result: Omit<PlacedScan, "doubts" | "shapeDoubts"> = {
    mesh: placed(mesh, pose),
    matrix: matrixOf(pose),
    asItWas: pose === asItIs,
    scale,
    fittedScale: fitted.scale,
    unit: own?.name ?? "no known unit",
    ...(by && { scaledBy: by.measure }),
    residual: residualOf(points, found.cloud, pose),
    shapeResidual,
    measured: measuredIn(pose),
    cleaning,
  };
  // Whoever names the points sees where the front is.
  const evidence = {
    ...evidenceOf(points, found, pose),
    ...(pointed && { face: 0 }),
    ...(placing.isMeanForm && { standsOff: 0 }),
  };
  return {
    ...result,
    doubts: [...sizeDoubts(result, form), ...scanDoubts(result, evidence)],
    shapeDoubts: scanDoubts(result, { ...evidence, missing: 0 }),
  };
}

interface UnitAndFrame {
  /** Undefined where no unit is plausible. */
  readonly unit: LengthUnit | undefined;
  /** A pose that has the axes and the origin of the head frame; its scale is the one at which the form fits. */
  readonly frame: ScanPose;
}

/**
 * The frame is that of the best fit at any size. But when what is bare of hair fits better at the size that a unit
 * gives, it is that fit's: then it is hair that makes the scan seem larger.
 */
function unitAndFrame(points: FitPoints, { best, cloud }: SearchResult, isMeasured: boolean): UnitAndFrame {
  const fitted = best.pose;
  const unit = likelyUnit(fitted.scale, isMeasured);
  const grown = unit ?? lengthUnits.find(({ mm }) => fitted.scale < mm && fitted.scale > mostHaired * mm);
  if (grown === undefined) return { unit, frame: fitted };
  const atOwnSize = poseAbout(fitted.rotation, grown.mm, inScan(fitted, [0, 0, 0]));
  const hairy = refine(points, cloud, atOwnSize, { ...fineRefining, scaled: false, hairy: true });
  const { offsets } = lieOf(points, onCranium, cloud, hairy, farthest);
  const bareOf = (pose: ScanPose) => cappedMean(lieOf(points, whereBare, cloud, pose, fineCap).distances);
  const isHair =
    offsets.length > 0 &&
    offsets[offsets.length >> 1] > leastHair &&
    bareOf(hairy) < hairTells * bareOf(fitted) &&
    bareOf(hairy) < poorFit;
  return isHair ? { unit: grown, frame: hairy } : { unit, frame: fitted };
}

/** How a scan fits that stands in the head frame, mm; undefined where it does not. */
function whereItStands(mesh: TriangleMesh, form: HeadForm, points: FitPoints): SearchResult | undefined {
  const cloud = new ScanCloud(mesh, 16_000, roundTheHead(mesh, form, [{ pose: asItIs }]));
  if (cloud.samples.count < 100 || !(residualOf(points, cloud, asItIs).median <= mostMedian))
    return undefined;
  const fitFrom = (pose: ScanPose): Fit => {
    const refined = refine(points, cloud, pose, fineRefining);
    return { pose: refined, cost: costOf(points, points.count, cloud, refined, fineCap) };
  };
  const best = fitFrom(asItIs);
  const reversed = fitFrom(faceToTheBack(asItIs, form));
  const found = { best, reversed, cloud };
  const { unit, frame } = unitAndFrame(points, found, true);
  const stands =
    best.cost <= reversed.cost &&
    unit === lengthUnits[0] &&
    Math.hypot(...inScan(frame, [0, 0, 0])) <= standsWithin.distance &&
    angleBetween(frame.rotation, asItIs.rotation) <= standsWithin.angle;
  return stands ? found : undefined;
}

/** Tries the units first, and any scale where none of them gives a good fit. */
function search(mesh: TriangleMesh, form: HeadForm, points: FitPoints): SearchResult | undefined {
  const known = searchHead(
    mesh,
    form,
    points,
    lengthUnits.map(({ mm }) => mm),
  );
  if (known !== undefined) {
    const { pose } = known.best;
    if (likelyUnit(pose.scale, true) !== undefined && residualOf(points, known.cloud, pose).median <= goodFit)
      return known;
  }
  const any = searchHead(mesh, form, points, []);
  if (known === undefined || any === undefined) return known ?? any;
  return known.best.cost <= any.best.cost ? known : any;
}

function residualOf(points: FitPoints, cloud: ScanCloud, pose: ScanPose): ScanResidual {
  const { distances } = lieOf(points, onCranium, cloud, pose, farthest);
  const at = (share: number): number =>
    Math.min(farthest, distances[Math.floor(share * (distances.length - 1))]);
  return { median: at(0.5), p90: at(0.9) };
}

function placed({ positions, triangles }: TriangleMesh, pose: ScanPose): TriangleMesh {
  if (pose === asItIs) return { positions, triangles };
  const { rotation: r, scale: s, shift } = pose;
  const moved = new Float32Array(positions.length);
  for (let i = 0; i < positions.length; i += 3) {
    const [x, y, z] = [positions[i], positions[i + 1], positions[i + 2]];
    moved[i] = s * (r[0] * x + r[1] * y + r[2] * z) + shift[0];
    moved[i + 1] = s * (r[3] * x + r[4] * y + r[5] * z) + shift[1];
    moved[i + 2] = s * (r[6] * x + r[7] * y + r[8] * z) + shift[2];
  }
  return { positions: moved, triangles };
}

const cappedMean = (distances: Float64Array): number =>
  distances.reduce((sum, distance) => sum + Math.min(fineCap, distance), 0) / distances.length;

function evidenceOf(
  points: FitPoints,
  { best, reversed, cloud }: SearchResult,
  pose: ScanPose,
): ScanEvidence {
  const { offsets } = lieOf(points, onCranium, cloud, pose, farthest);
  return {
    frontClearness: reversed.cost / best.cost,
    face: cappedMean(lieOf(points, onFace, cloud, best.pose, fineCap).distances),
    missing: lieOf(points, onCranium, cloud, best.pose, farthest).missing,
    standsOff: offsets.length > 0 ? offsets[offsets.length >> 1] : 0,
  };
}
