import { subtract, type Vec3 } from "../geometry/vector";
import type { Limits } from "../wearLimits";
import { Balance, turnedGravity } from "./balance/balance";
import { evenForces } from "./balance/contactForces";
import { down, forEachNod, nodDirections, nodLimits, nods } from "./balance/nods";
import { seat } from "./balance/seat";
import { bestAids, mostAidGap, type Spot, weightOf } from "./balance/stayOnAids";
import { fewContacts, type RestingContacts, restingContacts } from "./balance/stayOnContacts";
import { stayOnFindings } from "./balance/stayOnFindings";
import type { NodAngle, StayOn, StayOnContact } from "./balance/stayOnResult";
import { type InnerSurface, innerSurface } from "./fit/innerSurface";
import type { WornHead } from "./wornHead";
import type { WornPiece } from "./wornPiece";

export type { NodAngle, StayOn, StayOnContact } from "./balance/stayOnResult";

/** With this friction what slides holds. */
const greatFriction = 10;
/** So far past the angle at which the piece gives way it is asked whether more friction would hold it, degrees. */
const past = 1;
/**
 * All contacts together press with so many times the weight at most, or with so many times what they press with on a
 * level head, where that is more: the piece lies on by its weight, and is not counted as wedged on. Common practice, no
 * source.
 */
const squeezeOfWeight = 3;
const squeezeOfLevel = 1.5;
/** Contacts that are told of. */
const mostTold = 48;

const caveat =
  "Counted for a rigid piece on a rigid head that tilts slowly: hair and skin that give way, sweat, jolts and wind are not in it, so try it on.";

/**
 * Answers *does it stay on?*: where the piece comes to rest on the head with its hair, whether weight and the forces of
 * the contacts, with Coulomb friction, balance there, and how far the head tilts forward, back and to each side before
 * no such forces balance it (statics; a linear programme). Where that is too little: which comb or elastic would help
 * most. Left out: that hair, skin and piece are elastic and grip, sweat, jolts, wind, and that a moving piece may find
 * a new place to rest.
 */
export function stayOn(
  piece: WornPiece,
  head: WornHead,
  limits: Limits,
  inner: InnerSurface = innerSurface(piece, head),
): StayOn {
  const friction = limits.friction.value;
  const points = pointsOf(piece, inner);
  const { rests, pose, travel } = seat(points, inner.haired, head.haired, piece.centre, friction);
  const contacts = restingContacts(points, pose, head.haired, head.room.hair);
  const centre = pose.moved(...piece.centre);
  const free = new Balance(contacts, centre, friction);
  const squeeze = Math.max(squeezeOfWeight, squeezeOfLevel * (free.leastSqueeze(down) ?? 0));
  const balance = free.squeezed(squeeze);
  const holds = forEachNod((nod) => balance.greatestAngle(down, nodDirections[nod]) ?? -1);
  const rough = new Balance(contacts, centre, Math.max(greatFriction, friction), squeeze);
  const angles = forEachNod((nod): NodAngle => {
    const degrees = Math.max(0, holds[nod]);
    if (degrees >= 90) return { degrees: 90, how: "holds" };
    const further = turnedGravity(down, nodDirections[nod], Math.min(90, degrees + past));
    return { degrees, how: rough.fall(further) ? "tips" : "slides" };
  });
  const isWanting = nods.some((nod) => holds[nod] < limits[nodLimits[nod]].value);
  const aids =
    isWanting && contacts.count > 0
      ? bestAids(balance, spotsOf(piece, head, inner), pose, head, weightOf(piece.mass), holds, limits)
      : [];
  const answer = {
    rests: rests && contacts.count > 0,
    settled: { translation: subtract(centre, piece.centre), rotation: pose.turn, travel },
    contacts: toldContacts(piece, head, inner, contacts, centre, friction),
    inBalance: holds.forward >= 0,
    angles,
    friction,
    aids,
    caveat,
  };
  return { ...answer, findings: stayOnFindings(answer, piece, head, limits) };
}

function toldContacts(
  piece: WornPiece,
  head: WornHead,
  inner: InnerSurface,
  contacts: RestingContacts,
  centre: Vec3,
  friction: number,
): StayOnContact[] {
  const few = fewContacts(contacts, mostTold);
  const told = {
    count: few.length,
    positions: Float64Array.from(few.flatMap((k) => [...contacts.positions.subarray(3 * k, 3 * k + 3)])),
    normals: Float64Array.from(few.flatMap((k) => [...contacts.normals.subarray(3 * k, 3 * k + 3)])),
  };
  const { forces, normal } = evenForces(told, centre, down, friction);
  const weight = weightOf(piece.mass);
  return few
    .map((k, i): StayOnContact => {
      const sample = inner.samples[contacts.points[k]];
      const at = sampleAt(piece, sample);
      return {
        at,
        side: head.sideOf(at),
        part: partName(piece, sample),
        normal: normal[i] * weight,
        share: forces[3 * i + 2],
      };
    })
    .sort((a, b) => b.normal - a.normal);
}

/** Where an aid may act: the surface that faces the head, near it. */
function spotsOf(piece: WornPiece, head: WornHead, inner: InnerSurface): Spot[] {
  const spots: Spot[] = [];
  for (let i = 0; i < inner.count; i++) {
    const gap = Math.max(0, inner.haired[i]);
    if (gap > mostAidGap) continue;
    const sample = inner.samples[i];
    const at = sampleAt(piece, sample);
    spots.push({ at, ...head.directionOf(at), part: partName(piece, sample), gap });
  }
  return spots;
}

function pointsOf({ samples }: WornPiece, inner: InnerSurface): Float32Array {
  const points = new Float32Array(3 * inner.count);
  for (let i = 0; i < inner.count; i++) {
    for (let axis = 0; axis < 3; axis++) {
      points[3 * i + axis] = samples.positions[3 * inner.samples[i] + axis];
    }
  }
  return points;
}

const sampleAt = ({ samples: { positions } }: WornPiece, sample: number): Vec3 => [
  positions[3 * sample],
  positions[3 * sample + 1],
  positions[3 * sample + 2],
];

const partName = (piece: WornPiece, sample: number): string =>
  piece.parts[piece.partOf(piece.samples.triangles[sample])]?.name ?? "";
