import { radians, type Vec3 } from "../geometry/vector";
import type { Limits } from "../wearLimits";
import type { Finding } from "./finding";
import { bodyBelow } from "./view/bodyBelow";
import type { WornHead } from "./wornHead";
import type { WornPiece } from "./wornPiece";

/** Standard acceleration of free fall, m/s² (CGPM 1901). */
export const gravity = 9.80665;

/** On an adult head, mm from the middle between the tragions: how high the head's own centre of mass lies. */
const headCentreUp = 32.5;
/** How far forward it lies, mm; from memory, near 8 mm (Beier et al. 1979 give the height and the midline only in what was read). */
const headCentreForward = 8;
/** Mass of an adult head, g: the middle of 3,656 to 5,757 g (Beier et al. 1979). */
const headMass = 4706;
/** Crown height of the head that these are of, mm; other heads in proportion. */
const adultCrownHeight = 129;

/** *Is it too heavy?* */
export interface Weight {
  /** g, as printed. */
  readonly mass: number;
  /** Centre of mass of the piece, of the head, and of both together, mm, head frame. */
  readonly centre: Vec3;
  readonly headCentre: Vec3;
  readonly together: Vec3;
  /** Where the head turns on the neck, mm. */
  readonly joint: Vec3;
  /** Weight moment of the piece about the joint, head level and nodded forward by 30°, N·cm. */
  readonly momentLevel: number;
  readonly momentNodded: number;
  /** What the thresholds are worth, as sentences. */
  readonly caveats: readonly string[];
  readonly findings: readonly Finding[];
}

/** How far the head is nodded forward for the second moment, degrees. */
const nod = 30;

/**
 * Weight moment of a mass (g) about a point, N·cm: weight times the level distance from the point to the line on which
 * it pulls, both in mm; the head nodded forward by `nodded` degrees about the point. 0.5 kg at 10 cm: 49.03 N·cm.
 */
export function weightMoment(mass: number, centre: Vec3, about: Vec3, nodded = 0): number {
  const [right, forward, up] = [centre[0] - about[0], centre[1] - about[1], centre[2] - about[2]];
  const angle = radians(nodded);
  const level = forward * Math.cos(angle) + up * Math.sin(angle);
  return ((mass / 1000) * gravity * Math.sqrt(right * right + level * level)) / 10;
}

/**
 * Answers *is it too heavy?*: printed mass, centre of mass against the head's own (Beier et al. 1979), and the weight
 * moment about the neck joint, against the published thresholds.
 */
export function weight(piece: WornPiece, head: WornHead, limits: Limits): Weight {
  const size = head.measurements.crownHeight / adultCrownHeight;
  const { joint } = bodyBelow(head.measurements);
  const headCentre: Vec3 = [0, headCentreForward * size, headCentreUp * size];
  const { mass, centre } = piece;
  const ownHeadMass = headMass * size ** 3;
  const together = [0, 1, 2].map(
    (axis) => (mass * centre[axis] + ownHeadMass * headCentre[axis]) / (mass + ownHeadMass),
  ) as unknown as Vec3;
  const found = {
    mass,
    centre,
    headCentre,
    together,
    joint,
    momentLevel: weightMoment(mass, centre, joint),
    momentNodded: weightMoment(mass, centre, joint, nod),
    caveats: [
      "The thresholds come from trained adults with military headgear over hours of work; nobody has published any for costume.",
      ...(head.isChild
        ? ["There is no published threshold for children: keep it far below those of adults."]
        : []),
      "A light piece worn long can ache too: take it off between scenes.",
    ],
  };
  return { ...found, findings: [...massFindings(found, limits), ...momentFindings(found, limits)] };
}

type Found = Omit<Weight, "findings">;

function massFindings({ mass, centre }: Found, limits: Limits): Finding[] {
  const name = mass > limits.massMost.value ? "massMost" : "massAdvised";
  if (mass <= limits[name].value) return [];
  return [
    {
      id: "heavy",
      check: "weight",
      severity: name === "massMost" ? "error" : "warning",
      text: `it weighs ${Math.round(mass)} g, more than ${limits[name].value} g`,
      suggestion: "thin or shorten the largest parts, hollow them, or print with less infill",
      value: mass,
      unit: "g",
      limit: { name, ...limits[name] },
      at: centre,
    },
  ];
}

function momentFindings({ centre, joint, momentLevel, momentNodded }: Found, limits: Limits): Finding[] {
  const moment = Math.max(momentLevel, momentNodded);
  const name = moment > limits.momentMost.value ? "momentMost" : "momentAdvised";
  if (moment <= limits[name].value) return [];
  const posture = momentLevel >= momentNodded ? "held level" : `nodded ${nod}°`;
  const side = centre[1] >= joint[1] ? "forward of" : "behind";
  return [
    {
      id: "neck-moment",
      check: "weight",
      severity: name === "momentMost" ? "error" : "warning",
      text: `it pulls on the neck with ${moment.toFixed(0)} N·cm, head ${posture}; its centre of mass lies ${Math.abs(centre[1] - joint[1]).toFixed(0)} mm ${side} and ${(centre[2] - joint[2]).toFixed(0)} mm above the neck joint`,
      suggestion: "bring mass down and over the neck, or balance front and back",
      value: moment,
      unit: "N·cm",
      limit: { name, ...limits[name] },
      at: centre,
    },
  ];
}
