import {
  BufferAttribute,
  BufferGeometry,
  type Camera,
  Matrix4,
  Mesh,
  PlaneGeometry,
  Quaternion,
  Scene,
  type ShaderMaterial,
  Vector3,
  type WebGLRenderer,
} from "three";
import type { Ball } from "./ball";
import type { ComparisonBodies } from "./comparisonBodies";
import type { Materials } from "./materials";
import type { Piece } from "./piece";
import type { PlanBodies } from "./planBodies";
import type { Cut } from "./rayIndex";
import type { RigidMotion } from "./rigidMotion";
import type { Subjects } from "./subjects";

/** How it is painted. */
export interface Manner {
  readonly isWireShown: boolean;
  readonly outlinesAll: boolean;
  readonly hasOutlines: boolean;
  readonly cut: Cut | undefined;
  /** How the piece is moved away from its seat. */
  readonly motion: RigidMotion | undefined;
  readonly isWayShown: boolean;
}

/** `CLIP_DISTANCE0_WEBGL` of the extension WEBGL_clip_cull_distance. */
const clipDistance = 0x3000;

/** Paints piece, head and plate in passes, each with what the ones before left in depth and stencil. */
export class Painter {
  readonly #renderer: WebGLRenderer;
  readonly #materials: Materials;
  readonly #clips: boolean;
  readonly #capScene = new Scene();
  readonly #cap = new Mesh(new PlaneGeometry(1, 1));

  constructor(renderer: WebGLRenderer, materials: Materials) {
    this.#renderer = renderer;
    this.#materials = materials;
    this.#clips = renderer.extensions.has("WEBGL_clip_cull_distance");
    if (this.#clips) materials.useClipping();
    this.#cap.frustumCulled = false;
    this.#cap.matrixAutoUpdate = false;
    this.#capScene.add(this.#cap);
  }

  paint(subjects: Subjects, camera: Camera, ball: Ball, manner: Manner): void {
    const { piece, head, plate, way, bodies, comparison } = subjects;
    // Cut into pieces, it is those that are printed.
    const pieces = bodies.shown("pieces");
    // On its way it is shown alone.
    const compared = manner.motion ? undefined : comparison;
    const old = compared?.matter;
    const matter = pieces ?? old ?? piece.matter;
    const renderer = this.#renderer;
    const materials = this.#materials;
    /** What follows is of the piece, wherever it is on its way, or of what stands. */
    const stand = (of: "piece" | "head") => {
      if (manner.motion) materials.setEye(camera, of === "piece" ? manner.motion : undefined);
    };
    materials.setEye(camera);
    renderer.info.reset();
    renderer.clear();
    if (manner.cut) {
      this.#placeCap(manner.cut, ball);
      stand("piece");
      this.#paintMasks(matter, camera);
      stand("head");
      this.#paintCap(materials.capOfPiece, camera);
      if (head.isShown) {
        this.#paintMasks(head.scene, camera);
        this.#paintCap(materials.capOfHead, camera);
      }
    }
    stand("piece");
    renderer.render(matter, camera);
    stand("head");
    this.#paintBodies(bodies, camera, manner.cut !== undefined);
    if (head.isShown) renderer.render(head.scene, camera);
    if (manner.outlinesAll && head.isShown) this.#with(head.scene, materials.outlineOfParts, camera);
    if (manner.isWayShown) renderer.render(way.scene, camera);
    if (compared) this.#paintComparison(compared, piece, camera, manner.outlinesAll);
    stand("piece");
    if (manner.hasOutlines) {
      const { lit, pointed } = materials.shared;
      if (!manner.outlinesAll) piece.showOnly([lit.value, pointed.value]);
      const isOfParts = piece.isSolid && !pieces && !old;
      this.#with(matter, isOfParts ? materials.outlineOfSolid : materials.outlineOfParts, camera);
      piece.showOnly(undefined);
    }
    if (plate.isShown) renderer.render(plate.scene, camera);
    if (piece.cuts.children.length > 0 && !pieces) renderer.render(piece.cuts, camera);
    if (manner.isWireShown) this.#with(matter, materials.wire, camera);
  }

  /**
   * Props are matter. What is thrown away is a veil over all that stands behind it; cut open, one looks into it: its
   * many walls would cost a cap too long.
   */
  #paintBodies(bodies: PlanBodies, camera: Camera, isCut: boolean): void {
    const { capOfProps, ghostDepth } = this.#materials;
    const [props, supports] = [bodies.shown("props"), bodies.shown("supports")];
    if (props) {
      if (isCut) {
        this.#paintMasks(props, camera);
        this.#paintCap(capOfProps, camera);
      }
      this.#renderer.render(props, camera);
    }
    if (!supports) return;
    const gl = this.#renderer.getContext();
    const clips = isCut && this.#clips;
    if (clips) gl.enable(clipDistance);
    this.#with(supports, ghostDepth, camera);
    this.#renderer.render(supports, camera);
    if (clips) gl.disable(clipDistance);
  }

  /** What differs lies over matter; the other piece shows where it is not that. */
  #paintComparison(comparison: ComparisonBodies, piece: Piece, camera: Camera, outlinesAll: boolean): void {
    const { otherPiece, otherPieceDepth, outlineOfParts } = this.#materials;
    const other = comparison.ghost ?? (comparison.isNewGhost ? piece.matter : undefined);
    if (other) {
      this.#with(other, otherPieceDepth, camera);
      this.#with(other, otherPiece, camera);
    }
    for (const { scene, depth } of comparison.differences()) {
      this.#with(scene, depth, camera);
      this.#renderer.render(scene, camera);
      if (outlinesAll) this.#with(scene, outlineOfParts, camera);
    }
  }

  /** Makes the programs that first pictures need, before there is one: a triangle without area is drawn with each. */
  warm(camera: Camera): void {
    const { solid, draft, head, outlineOfSolid, outlineOfParts } = this.#materials;
    const geometry = new BufferGeometry();
    geometry.setAttribute("position", new BufferAttribute(new Float32Array(9), 3));
    geometry.setAttribute("normal", new BufferAttribute(new Int16Array(12), 4, true));
    geometry.setAttribute("part", new BufferAttribute(new Float32Array(3), 1));
    const scene = new Scene();
    for (const material of [solid, draft, head, outlineOfSolid, outlineOfParts]) {
      const mesh = new Mesh(geometry, material);
      mesh.frustumCulled = false;
      scene.add(mesh);
    }
    this.#renderer.render(scene, camera);
    geometry.dispose();
  }

  dispose(): void {
    this.#cap.geometry.dispose();
  }

  #with(scene: Scene, material: ShaderMaterial, camera: Camera): void {
    scene.overrideMaterial = material;
    this.#renderer.render(scene, camera);
    scene.overrideMaterial = null;
  }

  /** Counts the surface's backs and fronts beyond the plane: what is left over was cut open there. */
  #paintMasks(scene: Scene, camera: Camera): void {
    this.#renderer.clearStencil();
    this.#with(scene, this.#materials.maskBack, camera);
    this.#with(scene, this.#materials.maskFront, camera);
  }

  #paintCap(material: ShaderMaterial, camera: Camera): void {
    this.#cap.material = material;
    this.#renderer.render(this.#capScene, camera);
  }

  #placeCap({ normal, offset }: Cut, { middle, radius }: Ball): void {
    const towards = new Vector3(...normal);
    const at = new Vector3(...middle);
    at.addScaledVector(towards, offset - at.dot(towards));
    const turn = new Quaternion().setFromUnitVectors(new Vector3(0, 0, 1), towards);
    this.#cap.matrix.copy(new Matrix4().compose(at, turn, new Vector3(2 * radius, 2 * radius, 1)));
    this.#cap.matrixWorldNeedsUpdate = true;
  }
}
