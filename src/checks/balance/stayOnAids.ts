import { normalize, subtract, type Vec3 } from "../../geometry/vector";
import type { Limits } from "../../wearLimits";
import { gravity } from "../weight";
import type { WornHead } from "../wornHead";
import { type Balance, type Helper, turnedGravity } from "./balance";
import { down, forEachNod, type Nod, nodDirections, nodLimits, nods } from "./nods";
import type { Pose } from "./pose";

/** Force that one comb, or one end of an elastic, is counted with, N. Common practice, no source. */
export const aidForce = 3;

/** Where an aid acts on the piece. */
export interface AidPlace {
  /** mm, on the piece as designed. */
  readonly at: Vec3;
  /** Seen from the head's centre, degrees. */
  readonly azimuth: number;
  readonly elevation: number;
  /** Name of the part there; empty where nobody made it. */
  readonly part: string;
}

/** What would help a piece to stay on. */
export interface Aid {
  /** `comb`: holds in any direction; `elastic`: pulls to under the chin or behind the nape. */
  readonly kind: "comb" | "elastic";
  readonly to?: "chin" | "nape";
  readonly places: readonly AidPlace[];
  /** Greatest force at each place, N. */
  readonly force: number;
  /** Force at each place that is enough to hold to every limit, N; absent where the greatest is not. */
  readonly needs?: number;
  /** With the greatest force, the greatest angle for each way in which the head tilts, degrees; 90 is all that is looked for. */
  readonly holds: Readonly<Record<Nod, number>>;
  /** It, and where it acts, in words. */
  readonly words: string;
}

/** A point of the piece where an aid may act. */
export interface Spot extends AidPlace {
  /** Gap to the head with its hair, mm. */
  readonly gap: number;
}

/** Points farther from the head than this bear no comb, mm. Common practice, no source. */
export const mostAidGap = 10;
/** Spots stand in fields of this size, degrees. */
const azimuthField = 45;
const elevationField = 25;
const fieldsRound = 360 / azimuthField;
/** An elastic begins no higher than this, degrees above the girth, and not before the face or right behind. */
const elasticHighest = 25;
const elasticFrom = 40;
const elasticTo = 140;
/** So many places or pairs of places are tried of each kind. */
const mostTried = 24;
/** An aid that adds less than this is none, degrees. */
const leastGain = 1;
/** A later place is taken when it needs no more than this share of the force: places nearer to the head come first. */
const worthWhile = 0.9;

/**
 * The comb or combs, and the elastic, that help most, each where it acts best: tried at one place, or at a pair of
 * places left and right, by the balance of forces. Best is what holds to every limit with the least force, or else
 * what brings the angle that is worst against its limit highest.
 *
 * @param balance of the piece without aids, where it rests
 * @param weight N
 * @param holds angles without aids; −1 where it is not in balance level
 */
export function bestAids(
  balance: Balance,
  spots: readonly Spot[],
  pose: Pose,
  head: WornHead,
  weight: number,
  holds: Readonly<Record<Nod, number>>,
  limits: Limits,
): Aid[] {
  const { combs, elastics } = candidates(spots, head, pose, aidForce / Math.max(weight, 1e-3));
  return [combs, elastics].flatMap((tried) => {
    const best = bestOf(tried, balance, holds, limits);
    return best ? [best] : [];
  });
}

interface Candidate {
  readonly aid: Omit<Aid, "holds">;
  readonly helpers: readonly Helper[];
}

/**
 * The one that holds to all limits with the least force; where none does, the one that brings the angle that is worst
 * against its limit highest.
 */
function bestOf(
  tried: readonly Candidate[],
  balance: Balance,
  holds: Readonly<Record<Nod, number>>,
  limits: Limits,
): Aid | undefined {
  const limitOf = (nod: Nod) => limits[nodLimits[nod]].value;
  // What fails first is asked first.
  const wanting = nods
    .filter((nod) => holds[nod] < limitOf(nod))
    .sort((a, b) => holds[a] - limitOf(a) - (holds[b] - limitOf(b)));
  const best = easiest(tried, balance, wanting, limitOf) ?? farthest(tried, balance, holds, wanting, limitOf);
  if (!best) return undefined;
  const helped = balance.with(best.helpers);
  return {
    ...best.aid,
    ...(best.share !== undefined && { needs: best.share * best.aid.force }),
    holds: forEachNod((nod) => helped.greatestAngle(down, nodDirections[nod]) ?? -1),
  };
}

type Best = Candidate & { readonly share?: number };

function easiest(
  tried: readonly Candidate[],
  balance: Balance,
  wanting: readonly Nod[],
  limitOf: (nod: Nod) => number,
): Best | undefined {
  let best: Best | undefined;
  const asked = wanting.map((nod) => turnedGravity(down, nodDirections[nod], limitOf(nod)));
  for (const candidate of tried) {
    const most = best?.share === undefined ? 1 : best.share * worthWhile;
    const weaker = balance.with(candidate.helpers).weakened(most);
    const shares = [];
    for (const pull of asked) {
      const share = weaker.enoughOf(pull);
      if (share === undefined) break;
      shares.push(share * most);
    }
    if (shares.length === asked.length) best = { ...candidate, share: Math.max(...shares) };
  }
  return best;
}

function farthest(
  tried: readonly Candidate[],
  balance: Balance,
  holds: Readonly<Record<Nod, number>>,
  wanting: readonly Nod[],
  limitOf: (nod: Nod) => number,
): Best | undefined {
  let best: Best | undefined;
  let margin = Math.min(...wanting.map((nod) => holds[nod] - limitOf(nod)));
  for (const candidate of tried) {
    const helped = balance.with(candidate.helpers);
    const isBetter = wanting.every((nod) => {
      const wanted = Math.min(90, Math.max(0, limitOf(nod) + margin + leastGain));
      return holds[nod] >= wanted || !helped.fall(turnedGravity(down, nodDirections[nod], wanted), 0.02);
    });
    if (!isBetter) continue;
    const own = Math.min(
      ...wanting.map((nod) => (helped.greatestAngle(down, nodDirections[nod]) ?? -1) - limitOf(nod)),
    );
    if (own < margin + leastGain) continue;
    margin = own;
    best = candidate;
  }
  return best;
}

function candidates(
  spots: readonly Spot[],
  head: WornHead,
  pose: Pose,
  force: number,
): { combs: Candidate[]; elastics: Candidate[] } {
  const fields = new Map<string, Spot>();
  const keyOf = (azimuth: number, elevation: number) =>
    `${(Math.round(azimuth / azimuthField) + fieldsRound) % fieldsRound} ${Math.max(-2, Math.round(elevation / elevationField))}`;
  for (const spot of spots) {
    const key = keyOf(spot.azimuth, spot.elevation);
    const known = fields.get(key);
    if (!known || spot.gap < known.gap) fields.set(key, spot);
  }
  const groups: Spot[][] = [];
  const isTaken = new Set<string>();
  for (const [key, spot] of [...fields].sort(([, a], [, b]) => a.gap - b.gap)) {
    if (isTaken.has(key)) continue;
    const otherKey = keyOf(-spot.azimuth, spot.elevation);
    const other = otherKey === key ? undefined : fields.get(otherKey);
    isTaken.add(key).add(otherKey);
    groups.push(other ? [spot, other] : [spot]);
  }
  const chosen = groups.slice(0, mostTried);
  const settled = ({ at }: Spot): Vec3 => pose.moved(at[0], at[1], at[2]);
  const combs = chosen.map((places): Candidate => {
    const where = placeWords(places);
    return {
      aid: {
        kind: "comb",
        places: places.map(plainPlace),
        force: aidForce,
        words: `${places.length > 1 ? "a comb slot each side" : "a comb slot"} ${where}`,
      },
      helpers: places.map((spot) => ({ kind: "grip", at: settled(spot), force })),
    };
  });
  const low = chosen.filter(
    (places) =>
      places.length > 1 &&
      places.every(({ azimuth, elevation }) => {
        const side = Math.abs(azimuth);
        return elevation <= elasticHighest && side >= elasticFrom && side <= elasticTo;
      }),
  );
  const elastics = low.flatMap((places) =>
    (["chin", "nape"] as const).map((to): Candidate => {
      const target = head.landmarks[to];
      return {
        aid: {
          kind: "elastic",
          to,
          places: places.map(plainPlace),
          force: aidForce,
          words: `an elastic ${to === "chin" ? "under the chin" : "behind the nape"} from holes ${placeWords(places)}`,
        },
        helpers: places.map((spot) => {
          const at = settled(spot);
          return { kind: "pull", at, along: normalize(subtract(target, at), down), force };
        }),
      };
    }),
  );
  return { combs, elastics };
}

const plainPlace = ({ at, azimuth, elevation, part }: Spot): AidPlace => ({ at, azimuth, elevation, part });

function placeWords(places: readonly Spot[]): string {
  const azimuths = places.map(({ azimuth }) => azimuth);
  const elevation = places.reduce((sum, spot) => sum + spot.elevation, 0) / places.length;
  const names = [...new Set(places.map(({ part }) => part).filter((name) => name !== ""))];
  const on = names.length > 0 ? ` on ${names.map((name) => `"${name}"`).join(" and ")}` : "";
  return `${sidewaysWords(azimuths, elevation)}${heightWords(elevation)}${on}`;
}

function sidewaysWords(azimuths: readonly number[], elevation: number): string {
  if (elevation > 75) return "";
  const [first, second] = azimuths.map((azimuth) => Math.round(azimuth));
  if (second === undefined) return `at azimuth ${first}°, `;
  if (Math.abs(first + second) <= 10) {
    return `at azimuth ±${Math.round((Math.abs(first) + Math.abs(second)) / 2)}°, `;
  }
  return `at azimuths ${first}° and ${second}°, `;
}

function heightWords(elevation: number): string {
  const angle = Math.round(elevation);
  if (angle > 75) return "on the crown";
  if (angle > 15) return `${angle}° above the girth`;
  if (angle > 4) return "just above the girth";
  if (angle >= -4) return "at the girth";
  return angle >= -15 ? "just below the girth" : `${-angle}° below the girth`;
}

/** Weight of a mass in grams, N. */
export const weightOf = (mass: number): number => (mass > 0 ? (mass / 1000) * gravity : 0);
