import { degrees, type Vec3 } from "../geometry/vector";
import type { Limits } from "../wearLimits";
import { judgePassage, type Passage } from "./passage/passageJudge";
import type { Hinge, Motion } from "./passage/passageMotion";
import { alongMotion, slideTowards, tiltOf } from "./passage/passageMotion";
import { opening } from "./passage/passageOpening";
import { searchPoints } from "./passage/passagePoints";
import { hingeEdges, PassageSearch } from "./passage/passageSearch";
import { seatedPoints } from "./passage/passageSeat";
import { fewParts } from "./passage/passageTubes";
import { wayOnFindings } from "./passage/wayOnFindings";
import { type JudgedWay, type MotionOff, rankOf, type Way, type WayOn } from "./passage/wayOnResult";
import { placeOnHead } from "./passage/wayOnWords";
import type { WornHead } from "./wornHead";
import type { WornPiece } from "./wornPiece";

export type { MotionOff, Way, WayOn } from "./passage/wayOnResult";

/** A way must be better by this much than a plainer one to be named before it, mm. */
const plainness = 0.25;
/** A tilt below this is straight, degrees. */
const leastTilt = 2;
/** Room beyond the head when it is off, mm. */
const beyond = 10;

/**
 * Answers *can a rigid piece pass over the head to its seat?* by taking it off: straight up, tilted to any side up to
 * a little below level, and turned about its front or back edge; over the bare head, ears and nose included, and over
 * hair pressed flat. All distances in mm.
 */
export function wayOn(piece: WornPiece, head: WornHead, limits: Limits): WayOn {
  const { samples } = piece;
  const lacking = limits.passageTight.value;
  const seated = seatedPoints(samples.positions, head);
  const points = searchPoints(seated, head);
  const partOf = (sample: number): number => {
    const part = piece.partOf(samples.triangles[sample]);
    return part >= 0 && part < piece.parts.length ? part : -1;
  };
  const judged = (motion: Motion): JudgedWay => {
    const bare = judgePassage(seated.bare, partOf, head.bare.mesh, motion);
    const pressed =
      seated.pressed === seated.bare ? bare : judgePassage(seated.pressed, partOf, head.pressed.mesh, motion);
    return wayOf(motion, bare, pressed, piece, head);
  };
  const ways = [judged(slideTowards(0, 0))];
  if (rankOf(ways[0], lacking) < 2) {
    const search = new PassageSearch(points, head);
    const tilted = search.tilted();
    if (tiltOf(tilted.motion.direction).tilt >= leastTilt) ways.push(judged(tilted.motion));
    for (const edge of hingeEdges(samples.positions, head)) ways.push(judged(search.hinged(edge).motion));
  }
  const best = bestOf(ways, lacking);
  const rank = rankOf(ways[best], lacking);
  const isStopped = rank < 1;
  const cut = isStopped ? opening(seated.pressed, points, head) : undefined;
  const few = isStopped
    ? fewParts(seated.bare, points, partOf, piece.parts.length, head, ways, lacking)
    : undefined;
  const toMove = few?.parts.map(({ part, lacking: by }) => ({ part: piece.parts[part].name, by }));
  const answer = {
    passes: rank >= 1,
    passesPressed: ways.some((way) => rankOf(way, lacking) === 2),
    best,
    entersAtSeat: seated.enters,
    ...(cut && { opening: cut }),
    ...(toMove && { toMove }),
  };
  const findings = wayOnFindings({ ...answer, ways, findings: [] }, ways, seated.entersAt, piece, limits);
  return { ...answer, ways: ways.map(({ motion: _, stopped: __, ...way }) => way), findings };
}

function bestOf(ways: readonly Way[], lacking: number): number {
  let best = 0;
  for (let i = 1; i < ways.length; i++) {
    const [own, other] = [ways[i], ways[best]];
    const rank = rankOf(own, lacking) - rankOf(other, lacking);
    const less = rankOf(own, lacking) === 0 ? "tooSmallBare" : "tooSmallPressed";
    if (rank > 0 || (rank === 0 && own[less] < other[less] - plainness)) best = i;
  }
  return best;
}

function wayOf(motion: Motion, bare: Passage, pressed: Passage, piece: WornPiece, head: WornHead): JudgedWay {
  const told = bare.clearance < 0 || pressed.clearance >= 0 ? bare : pressed;
  const { positions } = piece.samples;
  const at = 3 * Math.max(0, told.sample);
  const tightestAt: Vec3 = [positions[at] ?? 0, positions[at + 1] ?? 0, positions[at + 2] ?? 0];
  const stopped = told.stopped.filter(({ part }) => part >= 0);
  return {
    kind:
      motion.kind === "hinge" ? "hinge" : tiltOf(motion.direction).tilt < leastTilt ? "straight" : "tilted",
    off: motionOff(motion, piece, head),
    tooSmallBare: Math.max(0, -bare.clearance),
    tooSmallPressed: Math.max(0, -pressed.clearance),
    roomBare: Math.max(0, bare.clearance),
    tightestAt,
    side: head.sideOf(tightestAt),
    place: placeOnHead(told.met ?? tightestAt, head),
    parts: stopped.map(({ part }) => piece.parts[part].name),
    motion,
    stopped,
  };
}

function motionOff(motion: Motion, piece: WornPiece, head: WornHead): MotionOff {
  if (motion.kind === "hinge") return hingeOff(motion);
  const { direction } = motion;
  let top = -Infinity;
  let bottom = Infinity;
  const high = alongMotion(
    head.pressed.mesh.positions,
    motion,
    new Float32Array(head.pressed.mesh.positions.length),
  );
  for (let i = 2; i < high.length; i += 3) top = Math.max(top, high[i]);
  const own = alongMotion(piece.samples.positions, motion, new Float32Array(piece.samples.positions.length));
  for (let i = 2; i < own.length; i += 3) bottom = Math.min(bottom, own[i]);
  const reach = top - bottom;
  return {
    kind: "slide",
    direction,
    distance: Number.isFinite(reach) ? Math.max(0, reach) + beyond : beyond,
  };
}

const hingeOff = ({ origin, axis, turn }: Hinge): MotionOff => ({
  kind: "hinge",
  edge: axis[0] < 0 ? "front" : "back",
  origin,
  axis,
  degrees: degrees(turn),
});
