import { curveOf } from "../geometry/curveCache";
import { angleAbout, defaultUp } from "../geometry/frames";
import type { TriangleMesh } from "../geometry/mesh";
import type { SectionData, TubeShape } from "../geometry/tubeShape";
import type { Vec2, Vec3 } from "../geometry/vector";
import { number, shown, text } from "./check";
import { designError } from "./error";
import type { Path } from "./path";
import { Point } from "./point";
import { Prop } from "./prop";
import { Cut, Solid } from "./solid";
import { Tube } from "./tube";

/** One thing of a headpiece that has a name: what is worn, what is cut away, or what holds it up in the print. */
export type Member = Tube | Solid | Cut | Prop;

/** A part, or parts in lists as deep as you like, props among them: what `make` and groups give back. */
export type Parts = Member | readonly Parts[];

/** All parts in one list, in order; an error for anything that is no part. */
export function flatParts(parts: Parts): Member[] {
  const flat: Member[] = [];
  const visit = (part: Parts) => {
    if (Array.isArray(part)) {
      for (const inner of part) visit(inner);
    } else if (isMember(part)) {
      flat.push(part);
    } else {
      throw designError({
        id: "not-a-part",
        text: `make gives back ${shown(part)} among its parts`,
        suggestion: "give back tubes, bands, solids, cuts and props, in lists where there are several",
      });
    }
  };
  visit(parts);
  return flat;
}

const isMember = (part: unknown): part is Member =>
  part instanceof Tube || part instanceof Solid || part instanceof Cut || part instanceof Prop;

/**
 * Parts under a common name, so that a function can be called twice without two parts of one name.
 * @example return [group("left", antler(-40)), group("right", antler(40))] // where antler is a function of yours
 */
export function group(name: string, parts: Parts): Member[] {
  text(name, "the name of the group");
  return renamedCopies(parts, (own) => `${name}: ${own}`);
}

/**
 * The parts on the other side of the head, under names that end in "mirrored". Return them beside the parts.
 * @example return [horn, mirrored(horn)]
 */
export function mirrored(parts: Parts): Member[] {
  return renamedCopies(parts, (own) => `${own} mirrored`, {
    path: (path) => path.mirrored(),
    point: ([x, y, z]) => [-x, y, z],
    flips: true,
  });
}

/**
 * Copies of the parts turned about the head's upright axis, evenly, the parts themselves first.
 * @example return repeatedAround(spike, 5)
 */
export function repeatedAround(parts: Parts, times: number): Member[] {
  const n = number(times, "how many times to repeat", { least: 1, most: 1000, whole: true });
  const copies = Array.from({ length: n - 1 }, (_, i) => {
    const angle = (360 / n) * (i + 1);
    return renamedCopies(parts, (own) => `${own} ${i + 2}`, {
      path: (path) => path.turned(angle),
      point: (position) => new Point(position, [0, 0, 1]).turned(angle).position,
      flips: false,
    });
  });
  return [...flatParts(parts), ...copies.flat()];
}

interface Change {
  path(path: Path): Path;
  point(position: Vec3): Vec3;
  /** Whether it turns a right hand into a left one. */
  readonly flips: boolean;
}

/** Copies of parts under new names, which cuts and resting tubes among them then know each other by. */
function renamedCopies(parts: Parts, rename: (name: string) => string, change?: Change): Member[] {
  const inside = flatParts(parts);
  const names = new Map(inside.map(({ name }) => [name, rename(name)]));
  const renamed = (name: string) => names.get(name) ?? name;
  const shapeOf = (shape: TubeShape) => (change ? changedShape(shape, change) : shape);
  const meshOf = (mesh: TriangleMesh) => (change ? changedMesh(mesh, change) : mesh);
  return inside.map((part) => {
    const name = renamed(part.name);
    if (part instanceof Solid) return new Solid(name, meshOf(part.mesh), part.origin);
    if (part instanceof Prop) {
      return new Prop(name, change ? change.point(part.at) : part.at, part, part.origin);
    }
    if (part instanceof Cut) {
      const body: Cut["body"] =
        part.body.kind === "tube"
          ? { kind: "tube", shape: shapeOf(part.body.shape) }
          : { kind: "solid", mesh: meshOf(part.body.mesh) };
      return new Cut(name, body, part.from?.map(renamed), part.origin);
    }
    const { path, shape, resting } = part;
    return part.changed({
      name,
      path: change ? change.path(path) : path,
      shape: shapeOf(shape),
      ...(resting?.over && { resting: { ...resting, over: resting.over.map(renamed) } }),
    });
  });
}

function changedShape(shape: TubeShape, change: Change): TubeShape {
  // A direction changes as the difference of two points does.
  const origin = change.point([0, 0, 0]);
  const turnedUp = (up: Vec3): Vec3 => {
    const [x, y, z] = change.point(up);
    return [x - origin[0], y - origin[1], z - origin[2]];
  };
  const path = { ...shape.path, points: shape.path.points.map(change.point) };
  const base = { ...shape, path, twist: change.flips ? -shape.twist : shape.twist };
  const section = change.flips ? flipped(shape.section) : shape.section;
  if (shape.upAtPoints) return { ...base, section, upAtPoints: shape.upAtPoints.map(turnedUp) };
  if (section.kind === "circle") return { ...base, section };
  // An outline starts upright: where that differs from the copied start, the outline is turned instead.
  const before = curveOf(shape.path).tangentAt(0);
  const after = turnedUp(before);
  return {
    ...base,
    section: turned(section, angleAbout(after, defaultUp(after), turnedUp(defaultUp(before)))),
  };
}

function flipped(section: SectionData): SectionData {
  if (section.kind === "circle") return section;
  return { kind: "outline", points: section.points.map(([x, y]): Vec2 => [-x, y]).reverse() };
}

function turned(section: SectionData, by: number): SectionData {
  if (section.kind === "circle" || Math.abs(by) < 1e-9) return section;
  const [c, s] = [Math.cos(by), Math.sin(by)];
  return { kind: "outline", points: section.points.map(([x, y]): Vec2 => [c * x - s * y, s * x + c * y]) };
}

function changedMesh(mesh: TriangleMesh, change: Change): TriangleMesh {
  const positions = new Float32Array(mesh.positions.length);
  for (let i = 0; i < positions.length; i += 3) {
    positions.set(change.point([mesh.positions[i], mesh.positions[i + 1], mesh.positions[i + 2]]), i);
  }
  const triangles = Uint32Array.from(mesh.triangles);
  if (change.flips) {
    for (let i = 0; i < triangles.length; i += 3) {
      [triangles[i + 1], triangles[i + 2]] = [triangles[i + 2], triangles[i + 1]];
    }
  }
  return { positions, triangles };
}
