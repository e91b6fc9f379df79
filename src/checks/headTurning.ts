import type { Part } from "../design/part";
import type { Vec3 } from "../geometry/vector";
import type { LimitName, Limits } from "../wearLimits";
import { atPart, type Finding, partNotes } from "./finding";
import {
  type BodyBelow,
  bodyBelow,
  type Capsule,
  distanceToCapsules,
  nearestCapsule,
} from "./view/bodyBelow";
import { type BodyDistance, freeAngle, type Turning, turnedPoint } from "./view/freeAngle";
import type { WornHead } from "./wornHead";
import type { WornPiece } from "./wornPiece";

export const headMotions = [
  "turnLeft",
  "turnRight",
  "nodForward",
  "leanBack",
  "tiltLeft",
  "tiltRight",
] as const;
export type HeadMotion = (typeof headMotions)[number];

/** How far a head goes without a piece, degrees: from memory, AAOS, *Joint Motion* (cervical spine). */
export const normalRange: Readonly<Record<HeadMotion, number>> = {
  turnLeft: 80,
  turnRight: 80,
  nodForward: 50,
  leanBack: 60,
  tiltLeft: 45,
  tiltRight: 45,
};

/** One way in which the head moves. */
export interface MotionRoom {
  readonly motion: HeadMotion;
  /** Degrees from upright before the piece meets the body; the normal range where it does not. */
  readonly free: number;
  /** Normal range, degrees. */
  readonly range: number;
  /** What meets: the part, what of the body, and the place on the piece, head upright; absent where nothing does. */
  readonly part?: string;
  readonly meets?: Capsule["name"];
  readonly at?: Vec3;
}

/** *Can she turn her head?* */
export interface HeadTurning {
  readonly motions: readonly MotionRoom[];
  /** Neck, shoulders, chest and back as they were taken to be, and the point that the head moves about. */
  readonly body: BodyBelow;
  readonly findings: readonly Finding[];
}

/** What lies this near to the body at rest, mm, meets it only once it comes nearer by as much: the body gives way. */
const give = 10;

/**
 * Answers *can she turn and nod her head?*: how far before what hangs from the piece meets neck, shoulders, chest or
 * back. The head moves as one body about the joint at its foot, the body below stays upright.
 * @param body what stands below the head; from the measurements unless given
 */
export function headTurning(
  piece: WornPiece,
  head: Pick<WornHead, "measurements">,
  limits: Limits,
  body: BodyBelow = bodyBelow(head.measurements),
): HeadTurning {
  const hanging = hangingSamples(piece, body);
  const found = headMotions.map((motion): FoundRoom => {
    const turning = turningOf(motion, body.joint);
    const { angle, point, at } = freeAngle(
      piece.samples.positions,
      hanging.list,
      hanging.allowed,
      turning,
      hanging.distance,
      hanging.atRest,
    );
    if (point === undefined || at === undefined) return { motion, turning, free: angle };
    const index = piece.partOf(piece.samples.triangles[point]);
    return {
      motion,
      turning,
      free: angle,
      index,
      part: piece.parts[index],
      meets: nearestCapsule(body.capsules, at)?.name,
      at: samplePoint(piece, point),
    };
  });
  return {
    motions: found.map(({ motion, free, part, meets, at }) => ({
      motion,
      free,
      range: normalRange[motion],
      ...(part && { part: part.name }),
      ...(meets && { meets }),
      ...(at && { at }),
    })),
    body,
    findings: found.flatMap((room) => roomFinding(room, piece, hanging, limits)),
  };
}

interface FoundRoom {
  readonly motion: HeadMotion;
  readonly turning: Turning;
  readonly free: number;
  /** Index of the part that meets; below zero where it is not known. */
  readonly index?: number;
  readonly part?: Part | undefined;
  readonly meets?: Capsule["name"] | undefined;
  readonly at?: Vec3;
}

/** Samples that may meet the body. */
interface Hanging {
  readonly list: Uint32Array;
  /** For each, the distance to the body below which it meets, mm. */
  readonly allowed: Float64Array;
  /** For each, the distance while the head is held upright, mm. */
  readonly atRest: Float64Array;
  readonly distance: BodyDistance;
}

const samplePoint = (piece: WornPiece, sample: number): Vec3 => {
  const { positions } = piece.samples;
  return [positions[3 * sample], positions[3 * sample + 1], positions[3 * sample + 2]];
};

/** Turn about +Z, lean and nod about +X, tilt about +Y; right-handed from above, from the right, from the front. */
function turningOf(motion: HeadMotion, about: Vec3): Turning {
  const most = normalRange[motion];
  switch (motion) {
    case "turnLeft":
      return { about, axis: 2, sign: 1, most };
    case "turnRight":
      return { about, axis: 2, sign: -1, most };
    case "nodForward":
      return { about, axis: 0, sign: -1, most };
    case "leanBack":
      return { about, axis: 0, sign: 1, most };
    case "tiltLeft":
      return { about, axis: 1, sign: -1, most };
    case "tiltRight":
      return { about, axis: 1, sign: 1, most };
  }
}

/** The samples that come near the body where the head moves as far as its range. */
function hangingSamples(piece: WornPiece, { capsules, joint }: BodyBelow): Hanging {
  const { count, positions } = piece.samples;
  const distance = distanceToCapsules(capsules);
  const top = capsules.reduce(
    (most, { from, to, radius }) => Math.max(most, from[2] + radius, to[2] + radius),
    -Infinity,
  );
  const list: number[] = [];
  const allowed: number[] = [];
  const atRest: number[] = [];
  const widest = (Math.max(...Object.values(normalRange)) * Math.PI) / 180;
  const steepest =
    (Math.max(normalRange.nodForward, normalRange.leanBack, normalRange.tiltLeft) * Math.PI) / 180;
  const [cosine, sine] = [Math.cos(steepest), Math.sin(steepest)];
  for (let i = 0; i < count; i++) {
    const x = positions[3 * i];
    const y = positions[3 * i + 1];
    const z = positions[3 * i + 2];
    const up = z - joint[2];
    const square = (x - joint[0]) ** 2 + (y - joint[1]) ** 2;
    const reach = Math.sqrt(square + up * up);
    if (joint[2] - reach > top) continue;
    // The lowest that a point comes: straight below the joint, or as far round as nod, lean and tilt go.
    const drop = -up >= reach * cosine ? reach : Math.sqrt(square) * sine - up * cosine;
    if (joint[2] - drop > top) continue;
    const rest = distance(x, y, z);
    if (rest > reach * widest) continue;
    list.push(i);
    atRest.push(rest);
    allowed.push(rest < give && rest >= -give ? rest - give : 0);
  }
  return {
    list: Uint32Array.from(list),
    allowed: Float64Array.from(allowed),
    atRest: Float64Array.from(atRest),
    distance,
  };
}

const limitOf: Readonly<Partial<Record<HeadMotion, LimitName>>> = {
  turnLeft: "turnRoom",
  turnRight: "turnRoom",
  nodForward: "nodRoom",
  leanBack: "nodRoom",
};

const motionWords: Readonly<Record<HeadMotion, string>> = {
  turnLeft: "turns to the left",
  turnRight: "turns to the right",
  nodForward: "nods forward",
  leanBack: "leans back",
  tiltLeft: "tilts to the left",
  tiltRight: "tilts to the right",
};

function roomFinding(room: FoundRoom, piece: WornPiece, hanging: Hanging, limits: Limits): Finding[] {
  const { motion, free, part, meets, at } = room;
  const name = limitOf[motion];
  if (name === undefined || at === undefined || free >= limits[name].value) return [];
  const limit = limits[name];
  const { shorten, away, others } = remedyOf(room, piece, hanging, limit.value);
  const who = part ? `"${part.name}"` : "the piece";
  const body = meets ?? "body";
  const text =
    free === 0
      ? `${who} hangs into the ${body} while the head is held upright: no room where the head ${motionWords[motion]}, ${limit.value}° asked`
      : `${who} meets the ${body} where the head ${motionWords[motion]} by ${Math.floor(free)}°, less than ${limit.value}°`;
  return [
    {
      id: name === "turnRoom" ? "turn-room" : "nod-room",
      check: "sight",
      severity: "warning",
      text,
      suggestion: `shorten it by ${Math.ceil(shorten)} mm from below, or hold it ${Math.ceil(away)} mm farther off`,
      value: free,
      unit: "°",
      limit: { name, ...limit },
      at,
      ...atPart(part),
      ...(others.length > 0 && {
        notes: partNotes(others, (other) => `"${other.name}" meets the body on the way too`),
      }),
    },
  ];
}

const mostLookedAt = 8000;

/** How much of a part has to go, and how deep it comes, so that the motion is free up to an angle; who else meets. */
function remedyOf(
  { turning, index }: FoundRoom,
  piece: WornPiece,
  { list, allowed, distance }: Hanging,
  angle: number,
): { shorten: number; away: number; others: Part[] } {
  const most = Math.min(angle, turning.most);
  let lowest = Infinity;
  let highest = -Infinity;
  let away = 0;
  const others = new Set<Part>();
  const { positions, triangles } = piece.samples;
  // Which others meet is told by some of their samples.
  const stride = Math.ceil(list.length / mostLookedAt);
  const one = new Uint32Array(1);
  const own = new Float64Array(1);
  for (let k = 0; k < list.length; k++) {
    const of = piece.partOf(triangles[list[k]]);
    const z = positions[3 * list[k] + 2];
    if (of === index) lowest = Math.min(lowest, z);
    else if (k % stride !== 0 || others.has(piece.parts[of])) continue;
    one[0] = list[k];
    own[0] = allowed[k];
    const meets = freeAngle(positions, one, own, { ...turning, most }, distance).point !== undefined;
    if (!meets) continue;
    if (of !== index) {
      if (piece.parts[of]) others.add(piece.parts[of]);
      continue;
    }
    highest = Math.max(highest, z);
    const point = samplePoint(piece, list[k]);
    for (let turn = 0; turn <= most; turn += 3) {
      away = Math.max(away, allowed[k] - distance(...turnedPoint(point, turning, turn)));
    }
    away = Math.max(away, allowed[k] - distance(...turnedPoint(point, turning, most)));
  }
  return { shorten: Math.max(1, highest - lowest), away: Math.max(1, away), others: [...others] };
}
