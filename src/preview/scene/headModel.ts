import { Mesh, Scene } from "three";
import type { MeshBuffers } from "../protocol";
import { type Box, centreOf } from "./bounds";
import { headShade } from "./headShade";
import type { Materials } from "./materials";
import { Surface } from "./surface";
import { dot, type Vector } from "./vector";

/** The wearer's head form: a neutral block to see the piece on. */
export class HeadModel {
  readonly scene = new Scene();
  /** The person wants to see it. */
  isWanted = true;
  #isInTheWay = false;
  readonly #materials: Materials;
  #surface: Surface | undefined;

  constructor(materials: Materials) {
    this.#materials = materials;
    this.scene.matrixWorldAutoUpdate = false;
  }

  get isShown(): boolean {
    return this.isWanted && !this.#isInTheWay;
  }

  /** From under the plate the neck would hide the piece: seen from there the head is left out. */
  setEye(towards: Vector, plateUp: Vector): void {
    this.#isInTheWay = dot(towards, plateUp) < -0.85;
  }

  get surface(): Surface | undefined {
    return this.#surface;
  }

  get shownBox(): Box | undefined {
    return this.isShown ? this.#surface?.box : undefined;
  }

  /** Middle of the skull; the frame's origin while there is no head. */
  get middle(): Vector {
    return this.#skull()?.middle ?? [0, 0, 0];
  }

  take(mesh: MeshBuffers): void {
    const surface = Surface.ofOne(mesh);
    this.#surface?.dispose();
    this.#surface = surface;
    const drawn = new Mesh(surface.geometry, this.#materials.head);
    drawn.frustumCulled = false;
    drawn.matrixAutoUpdate = false;
    this.scene.clear();
    this.scene.add(drawn);
  }

  /** Lays the shade of head and piece on each other; a few milliseconds, so after the first picture. */
  shade(piece: readonly Float32Array[]): void {
    const { shade, headBall, headStretch } = this.#materials.shared;
    const skull = this.#skull();
    if (!skull) return;
    const { middle, halves } = skull;
    headBall.value.set(...middle, this.isWanted ? 0.75 : 0);
    headStretch.value.set(1 / halves[0], 1 / halves[1], 1 / halves[2]);
    (shade.value.image.data as Uint8Array).set(headShade(piece, middle, halves));
    shade.value.needsUpdate = true;
  }

  /** Frees what lies on the graphics processor; drawn again, it is put there again. */
  release(): void {
    this.#surface?.dispose();
  }

  dispose(): void {
    this.release();
    this.scene.clear();
  }

  /** The upper head as an ellipsoid: from the frame's origin, between the ears, up to the crown. */
  #skull(): { readonly middle: Vector; readonly halves: Vector } | undefined {
    const box = this.#surface?.box;
    if (!box) return undefined;
    const [x, y] = centreOf(box);
    const crown = Math.max(box.most[2], 1);
    const middle: Vector = [x, y, crown * 0.25];
    return {
      middle,
      halves: [(box.most[0] - box.least[0]) / 2, (box.most[1] - box.least[1]) / 2, crown * 0.75],
    };
  }
}
