import type { TriangleMesh } from "../geometry/mesh";
import {
  add,
  addScaled,
  cross,
  distance,
  dot,
  length,
  normalize,
  scale,
  subtract,
  type Vec3,
} from "../geometry/vector";
import { MessageError } from "../message";
import type { HeadForm } from "./headForm";
import { costOf, type Fit, type FitPoints, ScanCloud } from "./scanFit";
import { poseAbout, type ScanPose } from "./scanPose";
import type { ScanPoints } from "./scanRequest";
import { fineCap, roundTheHead } from "./scanSearch";

/** Shares of the tragions' distance: how far the brow may be from the middle between them, and how far aside. */
const browReach: readonly [number, number] = [0.45, 1.3];
const mostAside = 0.2;
/** The head is levelled by no more than this from the brow's usual height, rad; and grown by no more than this share. */
const mostPitch = (18 * Math.PI) / 180;
const mostGrowth = 0.3;
/** Points of the form that are looked at, and of the scan. */
const looked = 900;
const cloudPoints = 16_000;
/** A head that fits upside down so much better has its tragions exchanged. */
const exchanged = 0.75;

/**
 * The pose in which the middle between the tragions is the origin, +X runs from left to right through both, and the
 * brow lies before it. Three points leave open how far the head nods, since the Frankfurt plane goes through none but
 * the tragions (ISO 7250-1): it starts where the brow has its usual height on the form, and is levelled, with the
 * scale, to where the form fits best.
 * @throws MessageError where the points cannot be those of a head, or left and right are exchanged
 */
export function placeByPoints(
  mesh: TriangleMesh,
  form: HeadForm,
  points: FitPoints,
  named: ScanPoints,
): { readonly best: Fit; readonly cloud: ScanCloud } {
  checkPoints(named);
  const swapped = { ...named, leftTragion: named.rightTragion, rightTragion: named.leftTragion };
  const poses = [new PointedPoses(form, named), new PointedPoses(form, swapped)] as const;
  const near = poses.map((each) => ({ pose: each.at(0, 0) }));
  const cloud = new ScanCloud(mesh, cloudPoints, roundTheHead(mesh, form, near));
  if (cloud.samples.count === 0) {
    throw wrongPoints("The scan has nothing where the points say that the head is.", pickAgain);
  }
  const [given, other] = poses.map((each) => bestPose(cloud, points, each));
  if (other.cost < exchanged * given.cost) {
    throw wrongPoints(
      `With these points the head stands upside down: the scan fits the head form to ${given.cost.toFixed(1)} mm, and with the tragions exchanged to ${other.cost.toFixed(1)} mm.`,
      "Exchange leftTragion and rightTragion: left is the wearer's own left. If they are right, the scan is mirrored.",
    );
  }
  return { best: given, cloud };
}

function checkPoints({ brow, leftTragion, rightTragion }: ScanPoints): void {
  const apart = distance(leftTragion, rightTragion);
  const middle = middleOf(leftTragion, rightTragion);
  const toBrow = distance(middle, brow);
  if (!(apart > 0 && toBrow > 0)) {
    throw wrongPoints("Two of the three points are one.", pickAgain);
  }
  const reach = toBrow / apart;
  const right = normalize(subtract(rightTragion, leftTragion));
  const aside = Math.abs(dot(subtract(brow, middle), right)) / apart;
  const [least, most] = browReach;
  if (!(reach >= least && reach <= most)) {
    throw wrongPoints(
      `The brow is ${readable(toBrow)} from the middle between the tragions, and these are ${readable(apart)} apart, in the scan's unit: on a head the one is ${least} to ${most} of the other.`,
      pickAgain,
    );
  }
  if (!(aside <= mostAside)) {
    throw wrongPoints(
      `The brow is ${readable(distance(brow, leftTragion))} from the left tragion and ${readable(distance(brow, rightTragion))} from the right one, in the scan's unit: it cannot lie between the eyebrows.`,
      pickAgain,
    );
  }
}

const middleOf = (a: Vec3, b: Vec3): Vec3 => scale(add(a, b), 0.5);

const pickAgain =
  "Pick the brow between the eyebrows and the notch before each ear again, in the scan's own coordinates.";

const readable = (value: number): string => String(Number(value.toPrecision(4)));

const wrongPoints = (text: string, suggestion: string): MessageError =>
  new MessageError([
    { id: "scan-points-impossible", severity: "error", field: "scan.points", text, suggestion },
  ]);

/** The poses that three points leave open. */
class PointedPoses {
  readonly #origin: Vec3;
  readonly #right: Vec3;
  readonly #before: Vec3;
  readonly #above: Vec3;
  readonly #pitch: number;
  readonly #scale: number;

  constructor(form: HeadForm, { brow, leftTragion, rightTragion }: ScanPoints) {
    this.#origin = middleOf(leftTragion, rightTragion);
    this.#right = normalize(subtract(rightTragion, leftTragion));
    const toBrow = subtract(brow, this.#origin);
    this.#before = normalize(addScaled(toBrow, this.#right, -dot(toBrow, this.#right)));
    this.#above = cross(this.#right, this.#before);
    const usual = form.landmarks;
    this.#pitch = Math.atan2(usual.brow[2], usual.brow[1]);
    this.#scale = Math.sqrt(
      (distance(usual.leftTragion, usual.rightTragion) / distance(leftTragion, rightTragion)) *
        (length(usual.brow) / length(toBrow)),
    );
  }

  /** Nodded back from where the brow has its usual height, rad, and grown from the usual size, as a logarithm. */
  at(nod: number, growth: number): ScanPose {
    const [c, s] = [Math.cos(this.#pitch + nod), Math.sin(this.#pitch + nod)];
    const forward = addScaled(scale(this.#before, c), this.#above, -s);
    const up = addScaled(scale(this.#above, c), this.#before, s);
    return poseAbout([...this.#right, ...forward, ...up], this.#scale * Math.exp(growth), this.#origin);
  }
}

function bestPose(cloud: ScanCloud, points: FitPoints, poses: PointedPoses): Fit {
  const count = Math.min(looked, points.count);
  const { nod, growth, cost } = leastOf((nod, growth) =>
    Math.abs(nod) > mostPitch || Math.abs(growth) > mostGrowth
      ? Infinity
      : costOf(points, count, cloud, poses.at(nod, growth), fineCap),
  );
  return { pose: poses.at(nod, growth), cost };
}

/** The least of a cost over nod and growth: the best of a grid, then in halving steps (Hooke and Jeeves 1961). */
function leastOf(cost: (nod: number, growth: number) => number): {
  nod: number;
  growth: number;
  cost: number;
} {
  let best = { nod: 0, growth: 0, cost: cost(0, 0) };
  const look = (nod: number, growth: number): boolean => {
    const found = cost(nod, growth);
    if (!(found < best.cost)) return false;
    best = { nod, growth, cost: found };
    return true;
  };
  for (let nod = -3; nod <= 3; nod++) {
    for (let growth = -2; growth <= 2; growth++) look((nod * mostPitch) / 3, (growth * mostGrowth) / 2.5);
  }
  for (let step = 0.5; step > 0.004; ) {
    const { nod, growth } = best;
    const [turn, grow] = [(step * mostPitch) / 3, (step * mostGrowth) / 2.5];
    const moved = [
      look(nod + turn, growth),
      look(nod - turn, growth),
      look(nod, growth + grow),
      look(nod, growth - grow),
    ].some(Boolean);
    if (!moved) step /= 2;
  }
  return best;
}
