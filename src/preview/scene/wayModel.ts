import { BufferAttribute, BufferGeometry, Mesh, Scene } from "three";
import type { WearScene } from "../protocol";
import { type Box, cornersOf } from "./bounds";
import type { HeadModel } from "./headModel";
import type { Materials } from "./materials";
import type { Piece } from "./piece";
import { movedPoint, onTheWay, type RigidMotion } from "./rigidMotion";
import type { Vector } from "./vector";
import { arrowMesh, arrowPath } from "./wayArrow";

export type WayScene = NonNullable<WearScene["wayOff"]>;

/** The piece's way on to the head: the arrow that shows it, and where the piece is on it. */
export class WayModel {
  readonly scene = new Scene();
  readonly #materials: Materials;
  #way: WayScene | undefined;
  #share: number | undefined;
  #path: readonly Vector[] = [];
  /** Stands for the way and the box that the arrow was made for. */
  #made = "";

  constructor(materials: Materials) {
    this.#materials = materials;
    this.scene.matrixWorldAutoUpdate = false;
  }

  get way(): WayScene | undefined {
    return this.#way;
  }

  /** Tells whether the picture may be another by it. */
  take(way: WayScene | undefined): boolean {
    if (JSON.stringify(way) === JSON.stringify(this.#way)) return false;
    this.#way = way;
    return true;
  }

  /** Where on its way the piece is, 0 off the head to 1 at its seat; undefined: it just sits. */
  set share(share: number | undefined) {
    this.#share = share;
  }

  get share(): number | undefined {
    return this.#share;
  }

  /** How the piece is moved away from its seat; undefined where it is not. */
  get motion(): RigidMotion | undefined {
    return this.#way && this.#share !== undefined && this.#share < 1
      ? onTheWay(this.#way.motion, this.#share)
      : undefined;
  }

  /** The arrow stands in the picture of a solid with its head. */
  isShown(piece: Piece, head: HeadModel): boolean {
    return this.#way !== undefined && piece.isSolid && head.isShown && head.surface !== undefined;
  }

  /** Makes the arrow for a piece with that box, where it is not made yet. */
  arrange(box: Box): void {
    const way = this.#way;
    if (!way) return;
    const wanted = JSON.stringify([way, box]);
    if (wanted === this.#made) return;
    this.#made = wanted;
    this.#path = arrowPath(way.motion, box);
    const { positions, normals, triangles } = arrowMesh(this.#path);
    const geometry = new BufferGeometry();
    geometry.setAttribute("position", new BufferAttribute(positions, 3));
    geometry.setAttribute("normal", new BufferAttribute(normals, 3));
    geometry.setIndex(new BufferAttribute(triangles, 1));
    this.release();
    this.scene.clear();
    const { wayOn, wayBarred } = this.#materials;
    const mesh = new Mesh(geometry, way.passes ? wayOn : wayBarred);
    mesh.frustumCulled = false;
    mesh.matrixAutoUpdate = false;
    this.scene.add(mesh);
  }

  /** Points that the picture must hold to show the arrow, x, y, z in turn. */
  arrowPoints(): number[] {
    return this.#path.flatMap((point) => [...point]);
  }

  /** Corners of the piece's box where its way on begins and on it, x, y, z in turn. */
  cornersAway(box: Box): number[] {
    const { motion } = this.#way ?? {};
    if (!motion) return [];
    const corners = cornersOf(box);
    const moved: number[] = [];
    // A turn may reach farther out in its midst than at its ends.
    for (const share of motion.kind === "hinge" ? [0, 0.25, 0.5, 0.75] : [0]) {
      const away = onTheWay(motion, share);
      for (let i = 0; i < corners.length; i += 3) {
        moved.push(...movedPoint(away, [corners[i], corners[i + 1], corners[i + 2]]));
      }
    }
    return moved;
  }

  /** Frees what lies on the graphics processor; drawn again, it is put there again. */
  release(): void {
    for (const object of this.scene.children) (object as Mesh).geometry.dispose();
  }
}
