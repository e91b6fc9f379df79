import type { CutPart, Part, TubePart } from "../../design/part";
import { Curve } from "../../geometry/curve";
import { meshVolume } from "../../geometry/measure";
import type { TriangleMesh } from "../../geometry/mesh";
import { greatestSurfaceDistance } from "../../geometry/surfaceDistance";
import type { Tip, TubeShape } from "../../geometry/tubeShape";
import { distance } from "../../geometry/vector";
import { isAlike } from "./alike";

/** What changed of a part, a clause each: "radius 6 mm instead of 5 mm", "path up to 12.4 mm away". */
export function changeWords(before: Part, after: Part): string[] {
  if (before.kind !== after.kind) return [`a ${after.kind} instead of a ${before.kind}`];
  if (before.kind === "tube" && after.kind === "tube") {
    return [...shapeWords(before.shape, after.shape), ...restingWords(before, after)];
  }
  if (before.kind === "solid" && after.kind === "solid") return meshWords(before.mesh, after.mesh);
  return cutWords(before as CutPart, after as CutPart);
}

function shapeWords(before: TubeShape, after: TubeShape): string[] {
  const words: string[] = [];
  const changed = (key: keyof TubeShape) => !isAlike(before[key], after[key]);
  if (changed("radius")) words.push(radiusWords(before, after));
  if (changed("path")) words.push(...pathWords(before, after));
  if (changed("section")) words.push("another section");
  if (changed("twist")) words.push(`twist ${degrees(after.twist)} instead of ${degrees(before.twist)}`);
  for (const end of ["start", "end"] as const) {
    const key = `${end}Tip` as const;
    if (changed(key)) words.push(`${end} ${tipWords(after[key])} instead of ${tipWords(before[key])}`);
  }
  if (changed("hollow")) words.push(hollowWords(before, after));
  // Which way a section faces follows the path; it is told where the path stayed.
  if (changed("upAtPoints") && !changed("path")) words.push("turned about its path");
  return words;
}

function radiusWords({ radius: before }: TubeShape, { radius: after }: TubeShape): string {
  const text = ({ radii }: TubeShape["radius"]) => {
    const [least, most] = [Math.min(...radii), Math.max(...radii)];
    return least === most ? mm(most) : `${number(least)} to ${mm(most)}`;
  };
  const [was, is] = [text(before), text(after)];
  return was === is ? `radius ${is}, shared out otherwise` : `radius ${is} instead of ${was}`;
}

/** So many places of a path are held against the other. */
const samples = 240;

/** A change of less is not told, mm. */
const leastMove = 0.005;

function pathWords({ path: before }: TubeShape, { path: after }: TubeShape): string[] {
  const [was, is] = [new Curve(before), new Curve(after)];
  const words: string[] = [];
  if (before.closed !== after.closed) words.push(after.closed ? "closed to a ring" : "no longer a ring");
  const away = Math.max(farthest(was, is), farthest(is, was));
  words.push(
    away >= leastMove ? `path up to ${mm(away)} away` : "path drawn otherwise, no farther than a hair away",
  );
  if (Math.abs(is.length - was.length) >= 0.05) {
    words.push(`${mm(is.length)} long instead of ${mm(was.length)}`);
  }
  return words;
}

/** Greatest distance of a path's places to another path, mm. */
function farthest(from: Curve, to: Curve): number {
  let most = 0;
  for (let i = 0; i <= samples; i++) {
    const point = from.pointAt(i / samples);
    most = Math.max(most, distance(point, to.pointAt(to.nearestShare(point))));
  }
  return most;
}

function tipWords(tip: Tip): string {
  switch (tip.kind) {
    case "flat":
    case "round":
      return tip.kind;
    case "point":
      return `pointed over ${mm(tip.length)} to a radius of ${mm(tip.radius)}`;
    case "flare":
      return `flared over ${mm(tip.length)} to a radius of ${mm(tip.radius)}`;
    case "bulb":
      return `bulb of radius ${mm(tip.radius)}`;
  }
}

function hollowWords({ hollow: before }: TubeShape, { hollow: after }: TubeShape): string {
  if (!after) return "solid instead of hollow";
  if (!before) return `hollow, wall ${mm(after.wall)}`;
  return before.wall === after.wall
    ? "another drain"
    : `wall ${mm(after.wall)} instead of ${mm(before.wall)}`;
}

function restingWords({ resting: before }: TubePart, { resting: after }: TubePart): string[] {
  if (isAlike(before, after)) return [];
  if (!before) return ["rests on the head"];
  return [after ? "rests otherwise" : "no longer rests"];
}

function meshWords(before: TriangleMesh, after: TriangleMesh): string[] {
  if (isAlike(before, after)) return [];
  const moved = movedBy(before, after);
  if (moved !== undefined) return [`moved by ${mm(moved)}`];
  const words = [`surface up to ${mm(greatestSurfaceDistance(before, after).distance)} away`];
  const [was, is] = [meshVolume(before), meshVolume(after)].map((volume) => Math.abs(volume) / 1000);
  if (Math.abs(is - was) >= 0.005) words.push(`${number(is)} cm³ instead of ${number(was)} cm³`);
  return words;
}

/** How far a mesh was moved as a whole, mm; undefined where it changed otherwise. */
function movedBy(before: TriangleMesh, after: TriangleMesh): number | undefined {
  const [a, b] = [before.positions, after.positions];
  if (a.length !== b.length || !isAlike(before.triangles, after.triangles)) return undefined;
  const by = [0, 1, 2].map((axis) => b[axis] - a[axis]);
  // Positions are 32-bit numbers.
  const isMoved = a.every((value, i) => Math.abs(value + by[i % 3] - b[i]) < 1e-3);
  return isMoved ? Math.hypot(...by) : undefined;
}

function cutWords(before: CutPart, after: CutPart): string[] {
  const words: string[] = [];
  const [was, is] = [before.body, after.body];
  if (was.kind !== is.kind) words.push(`cuts with a ${is.kind} instead of a ${was.kind}`);
  else if (was.kind === "tube" && is.kind === "tube") words.push(...shapeWords(was.shape, is.shape));
  else if (was.kind === "solid" && is.kind === "solid") words.push(...meshWords(was.mesh, is.mesh));
  const from = ({ from: names }: CutPart) => names?.join(", ") ?? "the whole piece";
  if (from(before) !== from(after)) words.push(`cut from ${from(after)} instead of ${from(before)}`);
  return words;
}

const number = (value: number): string => String(Number(value.toFixed(2)));
const mm = (value: number): string => `${number(value)} mm`;
const degrees = (value: number): string => `${number(value)}°`;
