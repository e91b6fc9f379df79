import { innerSurface } from "../../../src/checks/fit/innerSurface";
import { gap } from "../../../src/checks/gap";
import { stayOn } from "../../../src/checks/stayOn";
import { wayOn } from "../../../src/checks/wayOn";
import type { WornHead } from "../../../src/checks/wornHead";
import { WornPiece } from "../../../src/checks/wornPiece";
import { add, length, normalize, rotateAbout, subtract, type Vec3 } from "../../../src/geometry/vector";
import type { Limits } from "../../../src/wearLimits";

/** What the full checks say of a piece on a head: as it is put on, and where it comes to rest. */
export interface FullFit {
  /** mm of girth, as it is put on. */
  readonly play: number | undefined;
  /** Deepest in the bare head where it rests, mm. */
  readonly depth: number;
  /** How much its best way on is too small over hair pressed flat, mm. */
  readonly lacking: number;
  readonly fits: boolean;
}

/**
 * The criterion of `HeadJudge` by the full checks, each with the finished mesh; nothing of it comes from the light judge.
 * @param crown how much higher the head's crown is than that of the head that the piece was made for, mm
 */
export function fullFit(piece: WornPiece, head: WornHead, crown: number, limits: Limits): FullFit {
  const put = moved(piece, ([x, y, z]) => [x, y, z + crown]);
  const inner = innerSurface(put, head);
  const play = gap(put, head, limits, inner).play?.girth;
  const { rests, settled } = stayOn(put, head, limits, inner);
  const angle = (length(settled.rotation) * Math.PI) / 180;
  const axis = normalize(settled.rotation);
  const rested = moved(put, (point) => {
    const arm = subtract(point, put.centre);
    const turned = angle > 0 ? rotateAbout(arm, axis, angle) : arm;
    return add(add(put.centre, settled.translation), turned);
  });
  const depth = gap(rested, head, limits).entering[0]?.depth ?? 0;
  const { ways, best, passesPressed } = wayOn(rested, head, limits);
  const isPlayGood =
    play === undefined || (play >= limits.girthPlayLeast.value && play <= limits.girthPlayMost.value);
  return {
    play,
    depth,
    lacking: ways[best].tooSmallPressed,
    fits: isPlayGood && rests && depth <= limits.entering.value && passesPressed,
  };
}

/** The same piece elsewhere. */
function moved(piece: WornPiece, to: (point: Vec3) => Vec3): WornPiece {
  const positions = new Float32Array(piece.mesh.positions.length);
  for (let k = 0; k < positions.length; k += 3) {
    const [x, y, z] = piece.mesh.positions.subarray(k, k + 3);
    positions.set(to([x, y, z]), k);
  }
  const { parts, material, print, mass, centre } = piece;
  return new WornPiece({
    mesh: { ...piece.mesh, positions },
    parts,
    material,
    print,
    mass,
    centre: to(centre),
  });
}
