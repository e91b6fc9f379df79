import { emptyPlace } from "../../geometry/triangleTree";
import type { WornHead } from "../wornHead";
import type { WornPiece } from "../wornPiece";

/** What of a piece's surface is felt by the head, sample by sample. */
export interface InnerSurface {
  readonly count: number;
  /** Index of each among the piece's samples. */
  readonly samples: Uint32Array;
  /**
   * Distance of each to the bare head, mm, negative inside; and that less the hair, and less hair and ease: room is
   * measured as lift is, along the normal of the bare head.
   */
  readonly bare: Float32Array;
  readonly haired: Float32Array;
  readonly grown: Float32Array;
  /** mm² that each stands for. */
  readonly areas: Float32Array;
  /** Samples that lie inside the bare head, those that face outwards left out, and how deep, mm. */
  readonly insideCount: number;
  readonly inside: Uint32Array;
  readonly insideDepth: Float32Array;
}

/** What is farther than this from the grown head is no inner surface, mm. */
const reach = 15;
/** Cosine of the greatest angle between a surface's normal and the way to the head for it to face the head: 60°. */
const facing = 0.5;

/** Seen from the head's centre, a surface that faces it turns away by no more than this: cosine. */
const outwards = 0.5;

/**
 * The inner surface of a piece: samples within 15 mm of the grown head whose outward normal points to the head within
 * 60°, with nothing of the piece on the way to the head.
 */
export function innerSurface(piece: WornPiece, head: WornHead): InnerSurface {
  const { samples, tree } = piece;
  const { positions, normals, areas } = samples;
  const { bare, room } = head;
  const centre = head.form.center;
  const chosen: number[] = [];
  const distances: number[] = [];
  const hairs: number[] = [];
  const inside: number[] = [];
  const depths: number[] = [];
  const place = emptyPlace();
  const most = reach + room.ease + room.hair;
  let guess = -1;
  for (let i = 0; i < samples.count; i++) {
    const x = positions[3 * i];
    const y = positions[3 * i + 1];
    const z = positions[3 * i + 2];
    const rx = x - centre[0];
    const ry = y - centre[1];
    const rz = z - centre[2];
    const away2 = rx * rx + ry * ry + rz * rz;
    const outward = rx * normals[3 * i] + ry * normals[3 * i + 1] + rz * normals[3 * i + 2];
    // What faces outwards is not asked for its distance: that is the greater part of the work.
    if (outward > 0 && outward * outward > outwards * outwards * away2) continue;
    bare.nearest(x, y, z, place, most, guess);
    if (place.triangle < 0) continue;
    guess = place.triangle;
    const { distance } = place;
    const isInside = distance < 0;
    if (isInside) {
      inside.push(i);
      depths.push(-distance);
    }
    const away = Math.abs(distance);
    // On the surface itself the way to the head has no direction: the face's normal stands for it.
    const towards =
      away > 1e-4
        ? ((x - place.x) * normals[3 * i] +
            (y - place.y) * normals[3 * i + 1] +
            (z - place.z) * normals[3 * i + 2]) /
          distance
        : bare.faceNormals[3 * place.triangle] * normals[3 * i] +
          bare.faceNormals[3 * place.triangle + 1] * normals[3 * i + 1] +
          bare.faceNormals[3 * place.triangle + 2] * normals[3 * i + 2];
    if (towards > -facing) continue;
    if (!isInside && away > 0.02) {
      const dx = (place.x - x) / away;
      const dy = (place.y - y) / away;
      const dz = (place.z - z) / away;
      if (tree.meets(x, y, z, dx, dy, dz, away, 0.01)) continue;
    }
    chosen.push(i);
    distances.push(distance);
    hairs.push(head.hairAt([place.x, place.y, place.z]));
  }
  const count = chosen.length;
  const toBare = Float32Array.from(distances);
  return {
    count,
    samples: Uint32Array.from(chosen),
    bare: toBare,
    haired: toBare.map((distance, k) => distance - hairs[k]),
    grown: toBare.map((distance, k) => distance - hairs[k] - room.ease),
    areas: Float32Array.from(chosen, (sample) => areas[sample]),
    insideCount: inside.length,
    inside: Uint32Array.from(inside),
    insideDepth: Float32Array.from(depths),
  };
}
