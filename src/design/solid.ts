import { primitives } from "@jscad/modeling";
import type { Geom3 } from "@jscad/modeling/src/geometries/types";
import type { TriangleMesh } from "../geometry/mesh";
import type { Place } from "../message";
import { meshOf } from "./bodyMesh";
import { number, options, shown, text } from "./check";
import { designError, placeOfCall } from "./error";
import type { CutPart, SolidPart } from "./part";
import type { Path } from "./path";
import { type Placement, placed, placementNames } from "./placement";
import { type PointLike, toPoint } from "./point";
import { Tube, tubeOf } from "./tube";

/** A body of the piece that is not a tube. */
export class Solid implements SolidPart {
  readonly kind = "solid";
  readonly name: string;
  readonly mesh: TriangleMesh;
  readonly origin?: Place;

  constructor(name: string, mesh: TriangleMesh, origin?: Place) {
    this.name = name;
    this.mesh = mesh;
    if (origin) this.origin = origin;
  }
}

/** A body that is taken away from the piece. */
export class Cut implements CutPart {
  readonly kind = "cut";
  readonly name: string;
  readonly body: CutPart["body"];
  readonly from?: readonly string[];
  readonly origin?: Place;

  constructor(name: string, body: CutPart["body"], from?: readonly string[], origin?: Place) {
    this.name = name;
    this.body = body;
    if (from) this.from = from;
    if (origin) this.origin = origin;
  }
}

/** What a cut takes away from: the whole piece unless parts are named. */
export interface From {
  from?: Tube | Solid | readonly (Tube | Solid)[];
}

/**
 * A body made with @jscad/modeling, placed on the head, along a path or in space.
 * @example solid("pearl", primitives.sphere({ radius: 6 }), { at: ring.atAzimuth(0) })
 */
export function solid(name: string, body: Geom3, placement: Placement = {}): Solid {
  text(name, "the name of the solid");
  options(placement, `solid "${name}"`, placementNames);
  return new Solid(name, placed(meshOf(body, name), placement, `"${name}"`), placeOfCall());
}

/**
 * Takes a body away: a `geom3` of @jscad/modeling, or a tube.
 * @example cut("notch", primitives.cuboid({ size: [8, 8, 20] }), { at: ring.atAzimuth(180), from: ring })
 * @example cut("groove", tube("groove", ring.path.lifted(6), { radius: 1.5 }))
 */
export function cut(name: string, body: Geom3 | Tube, shape: Placement & From = {}): Cut {
  text(name, "the name of the cut");
  if (body instanceof Tube) {
    options(shape as From, `cut "${name}"`, ["from"]);
    return new Cut(name, { kind: "tube", shape: body.shape }, fromNames(shape, name), placeOfCall());
  }
  options(shape, `cut "${name}"`, [...placementNames, "from"]);
  const mesh = placed(meshOf(body, name), shape, `"${name}"`);
  return new Cut(name, { kind: "solid", mesh }, fromNames(shape, name), placeOfCall());
}

/**
 * A round seat for a stone or a bead: as deep as `depth` from the point inwards, open outwards; it faces off the
 * head, or off the tube where the point is one of its surface.
 * @example socket("brow stone", { at: ring.surfaceAt(ring.atAzimuth(0)), diameter: 8, depth: 4 })
 */
export function socket(
  name: string,
  shape: Pick<Placement, "facing"> & { at: PointLike; diameter: number; depth: number } & From,
): Cut {
  options(shape, `socket "${name}"`, ["at", "facing", "diameter", "depth", "from"]);
  const radius = number(shape.diameter, `diameter of "${name}"`, { above: 0 }) / 2;
  const depth = number(shape.depth, `depth of "${name}"`, { above: 0 });
  const open = depth + 4 * radius;
  const seat = primitives.cylinder({ radius, height: open, segments: 48, center: [0, 0, open / 2 - depth] });
  return cut(name, seat, { at: shape.at, facing: shape.facing ?? "out", ...fromOf(shape) });
}

/**
 * A hole right through, for a ribbon, a cord or elastic.
 * @example hole("left ribbon", { at: ring.atAzimuth(-90), diameter: 5, facing: "up" })
 */
export function hole(
  name: string,
  shape: Placement & { at: PointLike; diameter: number; length?: number } & From,
): Cut {
  options(shape, `hole "${name}"`, [...placementNames, "diameter", "length", "from"]);
  const radius = number(shape.diameter, `diameter of "${name}"`, { above: 0 }) / 2;
  const height = number(shape.length ?? 60, `length of "${name}"`, { above: 0 });
  const { at, facing, turn } = shape;
  toPoint(at, `at of "${name}"`);
  const drill = primitives.cylinder({ radius, height, segments: 32 });
  return cut(name, drill, { at, ...(facing && { facing }), ...(turn && { turn }), ...fromOf(shape) });
}

/**
 * A slot for a hair comb, open towards the head: `width` along the band, `thickness` for the comb's spine, `depth`
 * into the band.
 * @example combSlot("back comb", { at: ring.atAzimuth(180), width: 40, thickness: 2.4, depth: 6 })
 */
export function combSlot(
  name: string,
  shape: { at: PointLike; width: number; thickness: number; depth: number; turn?: number } & From,
): Cut {
  options(shape, `combSlot "${name}"`, ["at", "width", "thickness", "depth", "turn", "from"]);
  const size: [number, number, number] = [
    number(shape.width, `width of "${name}"`, { above: 0 }),
    number(shape.thickness, `thickness of "${name}"`, { above: 0 }),
    2 * number(shape.depth, `depth of "${name}"`, { above: 0 }),
  ];
  const turn = shape.turn === undefined ? {} : { turn: shape.turn };
  return cut(name, primitives.cuboid({ size }), { at: shape.at, facing: "out", ...turn, ...fromOf(shape) });
}

/**
 * A round channel along a path, for a wire or a light string.
 * @example channel("wire", stem, { diameter: 2.2 })
 */
export function channel(
  name: string,
  path: Path | Tube | readonly PointLike[],
  shape: { diameter: number } & From,
): Cut {
  options(shape, `channel "${name}"`, ["diameter", "from"]);
  const radius = number(shape.diameter, `diameter of "${name}"`, { above: 0 }) / 2;
  return cut(name, tubeOf(name, path, { radius }), fromOf(shape));
}

const fromOf = (shape: From): From => (shape.from === undefined ? {} : { from: shape.from });

function fromNames({ from }: From, name: string): string[] | undefined {
  if (from === undefined) return undefined;
  const parts = Array.isArray(from) ? from : [from];
  for (const part of parts) {
    if (part instanceof Tube || part instanceof Solid) continue;
    throw designError({
      id: "not-a-part",
      text: `"${name}" is to be cut from ${shown(part)}, not from a tube or a solid`,
      suggestion: "give the part itself, or a list of parts",
    });
  }
  return parts.map((part) => part.name);
}
