import type { Part } from "../../design/part";
import { emptyPlace } from "../../geometry/triangleTree";
import { add, normalize, radians, scale, type Vec3 } from "../../geometry/vector";
import type { Limits } from "../../wearLimits";
import { atPart, type Finding } from "../finding";
import { sideWords } from "../gap";
import type { WornHead } from "../wornHead";
import type { WornPiece } from "../wornPiece";
import { type Nod, nodDirections, nodLimits, nods } from "./nods";
import type { Aid } from "./stayOnAids";
import type { StayOn } from "./stayOnResult";

/** What is said of how a piece stays on. */
export function stayOnFindings(
  found: Omit<StayOn, "findings">,
  piece: WornPiece,
  head: WornHead,
  limits: Limits,
): Finding[] {
  if (found.contacts.length === 0) return [restsNowhere(piece, head)];
  const findings: Finding[] = [];
  if (!found.rests) findings.push(findsNoRest(found, piece));
  if (found.inBalance) findings.push(...givesWay(found, piece, limits));
  else findings.push(doesNotStay(found, piece));
  return findings;
}

function restsNowhere({ samples: { positions, count } }: WornPiece, head: WornHead): Finding {
  let least = Infinity;
  const place = emptyPlace();
  const step = Math.max(1, Math.floor(count / 2000));
  for (let i = 0; i < count; i += step) {
    head.haired.nearest(
      positions[3 * i],
      positions[3 * i + 1],
      positions[3 * i + 2],
      place,
      least,
      place.triangle,
    );
    if (place.triangle >= 0) least = Math.min(least, Math.abs(place.distance));
  }
  const value = Number.isFinite(least) ? least : 0;
  return {
    id: "rests-nowhere",
    check: "stayOn",
    severity: "error",
    text: "it does not rest on the head: nothing of it touches",
    suggestion:
      "let some part run along the head and bear on it in three places or more: a band, or a path with alongHead(…)",
    value,
    unit: "mm",
  };
}

function findsNoRest({ settled: { travel }, contacts }: Omit<StayOn, "findings">, piece: WornPiece): Finding {
  const [first] = contacts;
  return {
    id: "finds-no-rest",
    check: "stayOn",
    severity: "warning",
    text: `it sinks and turns by ${Math.round(travel)} mm from where it is designed and has not come to rest`,
    suggestion: "let it reach over the crown or farther round the head, or give it less ease",
    value: travel,
    unit: "mm",
    at: first.at,
    ...atPart(partNamed(piece, first.part)),
  };
}

function doesNotStay(found: Omit<StayOn, "findings">, piece: WornPiece): Finding {
  const [aid] = found.aids;
  const tips = nods.some((nod) => found.angles[nod].how === "tips");
  const middle = middleOf(found);
  const [across, along] = [piece.centre[0] - middle[0], piece.centre[1] - middle[1]];
  const puller = pullerOf(piece, middle, normalize([across, along, 0], [0, 0, 0]));
  return {
    id: "does-not-stay",
    check: "stayOn",
    severity: aid ? "warning" : "error",
    text: `it does not stay on by itself: on a level head it ${tips ? "tips" : "slides"} off${pulledBy(puller)}`,
    suggestion: aid
      ? `${aid.words}: ${forceOf(aid)} it on, to ${anglesOf(aid)}`
      : "move weight to the other side of the head, or let it reach farther round the head",
    value: 0,
    unit: "°",
    at: found.contacts[0].at,
    ...atPart(puller ?? partNamed(piece, found.contacts[0].part)),
  };
}

/** Forward, back, and of the two sides the worse. */
function givesWay(found: Omit<StayOn, "findings">, piece: WornPiece, limits: Limits): Finding[] {
  const { angles, aids } = found;
  const side: Nod = angles.left.degrees <= angles.right.degrees ? "left" : "right";
  return (["forward", "back", side] as const).flatMap((nod): Finding[] => {
    const { degrees, how } = angles[nod];
    const name = nodLimits[nod];
    const limit = limits[name];
    if (degrees >= limit.value) return [];
    const puller = how === "tips" ? pullerOf(piece, middleOf(found), leverOf(nod, degrees)) : undefined;
    const [carrier] = found.contacts;
    const why = puller
      ? pulledBy(puller)
      : carrier.part
        ? `: most rests on "${carrier.part}" ${sideWords[carrier.side]}`
        : "";
    const ways = aids
      .filter((aid) => aid.holds[nod] >= Math.min(degrees + 1, limit.value))
      .map((aid) => wayOf(aid, nod, limit.value));
    return [
      {
        id: "gives-way",
        check: "stayOn",
        severity: "warning",
        text: `it ${how} off when the head ${nodWords[nod]} by ${Math.floor(degrees)}°${why}`,
        suggestion:
          ways.length > 0
            ? ways.join("; ")
            : "let it reach farther round the head, or bring weight lower and nearer to the head",
        value: degrees,
        unit: "°",
        limit: { name, ...limit },
        at: carrier.at,
        ...atPart(puller ?? partNamed(piece, carrier.part)),
      },
    ];
  });
}

const nodWords: Readonly<Record<Nod, string>> = {
  forward: "nods forward",
  back: "leans back",
  left: "tilts to the left",
  right: "tilts to the right",
};

const pulledBy = (part: Part | undefined): string => (part ? `, pulled over most by "${part.name}"` : "");

const wayOf = (aid: Aid, nod: Nod, limit: number): string =>
  `${aid.words}: ${forceOf(aid)} it on to ${Math.floor(aid.needs === undefined ? aid.holds[nod] : limit)}°`;

const forceOf = ({ needs, force, places }: Aid): string =>
  `${(Math.max(1, Math.ceil(10 * (needs ?? force))) / 10).toFixed(1)} N ${places.length > 1 ? "at each keep" : "keeps"}`;

const anglesOf = ({ holds }: Aid): string =>
  `${Math.floor(holds.forward)}° forward, ${Math.floor(holds.back)}° back, ${Math.floor(Math.min(holds.left, holds.right))}° to the sides`;

const partNamed = (piece: WornPiece, name: string): Part | undefined =>
  piece.parts.find((part) => part.name === name);

const middleOf = ({ contacts }: Pick<StayOn, "contacts">): Vec3 =>
  scale(
    contacts.reduce((sum, { at }) => add(sum, at), [0, 0, 0] as Vec3),
    1 / contacts.length,
  );

/** Which way is level and down the slope, seen from a head tilted by an angle in degrees. */
const leverOf = (nod: Nod, angle: number): Vec3 =>
  add(scale(nodDirections[nod], Math.cos(radians(angle))), [0, 0, Math.sin(radians(angle))]);

/**
 * The part that pulls the piece over most: surface times distance along `lever` beyond the contacts' middle. Shells are
 * most of a printed mass, so the surface stands for it.
 */
function pullerOf(piece: WornPiece, middle: Vec3, lever: Vec3): Part | undefined {
  const { positions, areas, triangles, count } = piece.samples;
  const pulls = new Float64Array(piece.parts.length);
  for (let i = 0; i < count; i++) {
    const part = piece.partOf(triangles[i]);
    if (part < 0 || part >= pulls.length) continue;
    let reach = 0;
    for (let axis = 0; axis < 3; axis++) reach += lever[axis] * (positions[3 * i + axis] - middle[axis]);
    pulls[part] += areas[i] * reach;
  }
  let most = 0;
  let puller: Part | undefined;
  for (let part = 0; part < pulls.length; part++) {
    if (pulls[part] <= most) continue;
    most = pulls[part];
    puller = piece.parts[part];
  }
  return puller;
}
