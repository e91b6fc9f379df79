import type { BodyPiece } from "./bodyPiece";
import type { TriangleMesh } from "./mesh";
import { preparedPieces } from "./overlapPieces";
import { refusal } from "./refusal";
import { type PreparedTube, prepareTube } from "./rings";
import { type Section, sectionPolygon } from "./section";
import { SectionFrames } from "./sectionFrames";
import { checkedTolerance, defaultTolerance, sweepPrepared, sweepTube } from "./sweep";
import type { Cap, TubeProfile } from "./tips";
import type { TubeShape } from "./tubeShape";
import { addScaled } from "./vector";

/** What a hollow tube is made of: the outer body less the cores less the drain. Each mesh is closed by itself. */
export interface HollowMeshes {
  readonly outer: TriangleMesh;
  /** Usually one; none where the tube is nowhere wider than its walls, several where it is narrow between. */
  readonly cores: readonly TriangleMesh[];
  /** From the path out through the wall, on the side of the section's -Y axis. */
  readonly drain?: TriangleMesh;
}

/** A core narrower than this is left out, mm of radius. */
const leastCore = 0.4;

/**
 * Meshes of a hollow tube. The wall is `hollow.wall` thick or, beside an outline that is not round, thicker: the core
 * is the section made smaller about the path. Ends keep a wall too. Throws a MessageError for a wall or a drain that
 * cannot be, and for an outline that does not go around its path.
 */
export function sweepHollow(shape: TubeShape, tolerance = defaultTolerance): HollowMeshes {
  const { tube, cores, drain } = prepareHollow(shape, checkedTolerance(tolerance));
  return {
    outer: sweepPrepared(tube, tolerance),
    cores: cores.map((core) => sweepPrepared(core.tube, tolerance, core.from, core.to)),
    ...(drain && { drain }),
  };
}

/** A hollow tube as bodies to add and bodies to take away from their union. */
export interface HollowPieces {
  readonly add: readonly BodyPiece[];
  readonly remove: readonly BodyPiece[];
}

/** `sweepHollow` in pieces, right also where the tube or its core overlaps itself (see `overlapPieces`). */
export function hollowPieces(shape: TubeShape, tolerance = defaultTolerance): HollowPieces {
  const { tube, cores, drain } = prepareHollow(shape, checkedTolerance(tolerance));
  return {
    add: preparedPieces(tube, tolerance),
    remove: [
      ...cores.flatMap((core) => preparedPieces(core.tube, tolerance, core.from, core.to)),
      ...(drain ? [{ kind: "mesh", mesh: drain } as const] : []),
    ],
  };
}

interface Core {
  readonly tube: PreparedTube;
  /** Shares of the path between which it runs. */
  readonly from: number;
  readonly to: number;
}

function prepareHollow(
  shape: TubeShape,
  tolerance: number,
): { tube: PreparedTube; cores: Core[]; drain?: TriangleMesh } {
  const tube = prepareTube(shape, tolerance);
  const hollow = shape.hollow;
  if (!hollow) return { tube, cores: [] };
  if (!(hollow.wall > 0) || !Number.isFinite(hollow.wall)) {
    throw refusal(
      "wall-not-positive",
      `the wall of the hollow tube is ${hollow.wall} mm`,
      "give a wall above 0 mm",
    );
  }
  const inset = hollow.wall / inradius(tube.section);
  const radiusAt = (position: number) => tube.profile.radiusAt(position) - inset;
  const stretches = coreStretches(tube, hollow.wall, radiusAt);
  const cores = stretches.map(([from, to]) => core(shape, tube, from, to, inset, hollow.wall, tolerance));
  if (!(hollow.drain > 0)) return { tube, cores };
  return {
    tube,
    cores,
    drain: drainMesh(tube, hollow.drain, hollow.drainAt, stretches, radiusAt, tolerance),
  };
}

/** Radius of the greatest circle about the path within the section, in radii. */
function inradius(section: Section): number {
  if (section.round) return 1;
  const n = section.points.length;
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < n; i++) {
    const [a, b] = [section.points[i], section.points[(i + 1) % n]];
    const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
    least = Math.min(least, (a[0] * b[1] - a[1] * b[0]) / Math.hypot(dx, dy));
  }
  if (section.cap || !(least > 0.01)) {
    throw refusal(
      "hollow-outline-beside-path",
      "the section's outline of a hollow tube does not go around its path in one sweep",
      "give an outline every point of which is seen from [0, 0], or leave the tube solid",
    );
  }
  return least;
}

/** Stretches of the path, mm, over which a core has room. */
function coreStretches(
  tube: PreparedTube,
  wall: number,
  radiusAt: (position: number) => number,
): [number, number][] {
  const { curve, profile } = tube;
  const length = curve.length;
  const room = (position: number) => radiusAt(position) >= leastCore;
  const first = !curve.closed && profile.start.kind === "flat" ? wall : 0;
  const last = !curve.closed && profile.end.kind === "flat" ? length - wall : length;
  if (last - first < 1e-3) return [];
  const steps = Math.max(64, Math.ceil(length / 2));
  const positions = Array.from({ length: steps + 1 }, (_, i) => first + ((last - first) * i) / steps);
  const edge = (inside: number, outside: number) => {
    let [a, b] = [inside, outside];
    for (let round = 0; round < 40; round++) {
      const middle = (a + b) / 2;
      if (room(middle)) a = middle;
      else b = middle;
    }
    return a;
  };
  const found: [number, number][] = [];
  let from: number | undefined;
  for (let i = 0; i <= steps; i++) {
    const here = room(positions[i]);
    if (here && from === undefined) from = i === 0 ? first : edge(positions[i], positions[i - 1]);
    if (from === undefined || (here && i < steps)) continue;
    const to = here ? last : edge(positions[i - 1], positions[i]);
    if (to - from > leastCore) found.push([from, to]);
    from = undefined;
  }
  const whole = found.length === 1 && found[0][0] === 0 && found[0][1] === length;
  if (!curve.closed || whole) return found;
  // A core that only partly follows a closed path keeps a wall at the path's start.
  return found
    .map(([a, b]): [number, number] => [Math.max(a, wall / 2), Math.min(b, length - wall / 2)])
    .filter(([a, b]) => b - a > leastCore);
}

function core(
  shape: TubeShape,
  tube: PreparedTube,
  from: number,
  to: number,
  inset: number,
  wall: number,
  tolerance: number,
): Core {
  const { curve, profile } = tube;
  const length = curve.length;
  const atEnd = (cap: Cap, reached: boolean): Cap =>
    reached && cap.kind === "dome" && cap.radius - wall >= leastCore
      ? { kind: "dome", radius: cap.radius - wall }
      : { kind: "flat" };
  const inner: TubeProfile = {
    radiusAt: (position) => profile.radiusAt(position) - inset,
    corners: profile.corners.filter((corner) => corner > from && corner < to),
    knots: profile.knots,
    greatest: profile.greatest - inset,
    start: atEnd(profile.start, from === 0),
    end: atEnd(profile.end, to === length),
  };
  const section = tube.section.round
    ? sectionPolygon(shape.section, inner.greatest, tolerance)
    : tube.section;
  return { tube: { ...tube, profile: inner, section }, from: from / length, to: to / length };
}

function drainMesh(
  tube: PreparedTube,
  diameter: number,
  share: number,
  stretches: readonly [number, number][],
  radiusAt: (position: number) => number,
  tolerance: number,
): TriangleMesh {
  const position = share * tube.curve.length;
  const inside = stretches.some(([from, to]) => position >= from && position <= to);
  const room = inside ? 2 * radiusAt(position) : 0;
  if (!inside || diameter > room) {
    throw refusal(
      "drain-misses-core",
      `the drain of ${diameter} mm at the share ${share} is wider than the core there, ${Math.max(0, room).toFixed(1)} mm`,
      "move the drain to where the tube is wider, or make it smaller",
    );
  }
  const frame = new SectionFrames(tube.curve, tube.turnAt).at(share);
  const out = tube.profile.radiusAt(position) * tube.section.reach + 1;
  return sweepTube(
    {
      path: {
        kind: "through",
        points: [frame.centre, addScaled(frame.centre, frame.y, -out)],
        closed: false,
      },
      radius: { shares: [0], radii: [diameter / 2] },
      section: { kind: "circle" },
      twist: 0,
      startTip: { kind: "flat" },
      endTip: { kind: "flat" },
    },
    tolerance,
  );
}
