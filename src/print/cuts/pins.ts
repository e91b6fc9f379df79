import type { PartMesh } from "../../geometry/mesh";
import type { ConvexBody } from "../../geometry/solid/cutting";
import { dot, scale, type Vec3 } from "../../geometry/vector";
import type { CutFace } from "./cutSearch";
import { chooseKeys, type Key, keyOutline, socketWall, tipRoom } from "./keys";
import { around, deepest, type PinFrame, pinFrame, roomRound } from "./pinRoom";
import { partOfCutFace } from "./planeSection";

/** A cut face between two pieces, and the way in which the second is pushed on to the first or drawn off it. */
export interface FaceToJoin {
  readonly face: CutFace;
  /** Index of the piece below the face's plane and of the one above. */
  readonly below: number;
  readonly above: number;
  /** Unit vector along which a pin may lie, either way. */
  readonly along: Vec3;
  /** The piece that would rather have the peg. */
  readonly peg: number;
}

/** A pin as it is made. */
export interface Pin {
  readonly key: Key;
  readonly isUnique: boolean;
  readonly frame: PinFrame;
  /** Pieces with its peg and its socket. */
  readonly pieces: readonly [number, number];
  readonly peg: ConvexBody;
  readonly socket: ConvexBody;
}

/** How deep a peg roots in its piece, and how far a socket's cutter reaches out of its own, mm. */
const root = 0.8;
const cutIn = 0.5;
/** All of a pin lies within this of the face's middle, mm. */
const reach = 30;

/** A pin for each face, where there is room for one. */
export function pinsFor(
  faces: readonly FaceToJoin[],
  bodies: readonly PartMesh[],
  clearance: number,
): (Pin | undefined)[] {
  const placed = faces.map((join) => placedPin(join, bodies));
  const keys = chooseKeys(
    placed.map(({ radius }) => ({
      radiusAt: (length) => radius(length + tipRoom + socketWall) - socketWall - clearance,
    })),
    clearance,
  );
  return placed.map(({ frame, pieces, normal, offset }, i) => {
    const chosen = keys[i];
    if (!chosen) return undefined;
    const { key, isUnique } = chosen;
    const slant = key.a * Math.tan(Math.acos(Math.min(1, dot(frame.z, normal))));
    const ring = (height: number, room: number) =>
      keyOutline(key, Math.max(0, height), room).map(
        ([x, y]): Vec3 =>
          [0, 1, 2].map(
            (axis) => frame.origin[axis] + x * frame.x[axis] + y * frame.y[axis] + height * frame.z[axis],
          ) as unknown as Vec3,
      );
    const body = (room: number, under: number, over: number): ConvexBody => ({
      corners: [...ring(-under - slant, room), ...ring(0, room), ...ring(over, room)],
      normal,
      offset,
    });
    return {
      key,
      isUnique,
      frame,
      pieces,
      peg: body(0, root, key.length),
      socket: body(clearance, cutIn, key.length + tipRoom),
    };
  });
}

function placedPin({ face, below, above, along, peg }: FaceToJoin, bodies: readonly PartMesh[]) {
  const { at } = deepest(face.section);
  const options = [below, above]
    .sort((a, b) => Number(b === peg) - Number(a === peg))
    .map((own) => {
      const other = own === below ? above : below;
      // From the peg's piece into the socket's: up through the plane where the peg is below it.
      const normal = own === below ? face.plane.normal : scale(face.plane.normal, -1);
      const direction = dot(along, normal) < 0 ? scale(along, -1) : along;
      const frame = pinFrame(face.section, face.axes, at, direction);
      const cap = partOfCutFace(face.number);
      const radius = roomRound(
        around(bodies[other], frame.origin, reach, cap),
        around(bodies[own], frame.origin, reach, cap),
        frame,
      );
      const offset = own === below ? face.plane.offset : -face.plane.offset;
      return { frame, radius, normal, offset, pieces: [own, other] as const };
    });
  const [wanted, other] = options;
  const usual = 4 + tipRoom + socketWall;
  return other.radius(usual) > 1.15 * wanted.radius(usual) ? other : wanted;
}
