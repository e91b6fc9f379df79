import { Scene } from "three";
import type { MeshBuffers, PlanBody, ToPreview } from "../protocol";
import type { Box } from "./bounds";
import type { Materials } from "./materials";
import { partlessMesh } from "./partlessMesh";
import { headFrame, movedPoints } from "./plateFrame";
import type { RigidMotion } from "./rigidMotion";
import { Surface } from "./surface";

type PlanBodyMessage = Extract<ToPreview, { kind: "planBody" }>;

interface Body {
  readonly scene: Scene;
  version: number;
  /** As it came, in the plate's frame. */
  mesh: MeshBuffers | undefined;
  /** In the head frame; made when it is first looked at. */
  surface: Surface | undefined;
}

const names = ["supports", "props", "pieces"] as const satisfies readonly PlanBody[];

/**
 * What stands on the plate besides the piece: supports, props; or the pieces into which it is cut. Everything else in
 * the picture stands in the head frame, so they are brought there.
 */
export class PlanBodies {
  readonly #materials: Materials;
  readonly #bodies: Readonly<Record<PlanBody, Body>>;
  #frame: RigidMotion = headFrame;
  /** Version of the piece in the picture: what belongs to another is not shown. */
  #version = -1;
  #isShown = false;
  #isOverhangShown = false;

  constructor(materials: Materials) {
    this.#materials = materials;
    const body = (): Body => {
      const scene = new Scene();
      scene.matrixWorldAutoUpdate = false;
      return { scene, version: -1, mesh: undefined, surface: undefined };
    };
    this.#bodies = { supports: body(), props: body(), pieces: body() };
  }

  /** Takes one in; tells whether the picture may be another by it. One that is older than what is there is dropped. */
  take({ body: name, version, mesh }: PlanBodyMessage): boolean {
    const body = this.#bodies[name];
    if (version < body.version) return false;
    const wasThere = body.mesh !== undefined;
    this.#free(body);
    body.version = version;
    body.mesh = mesh && mesh.triangles.byteLength > 0 ? mesh : undefined;
    return this.#isShown && (wasThere || body.mesh !== undefined);
  }

  /** Where the plate stands, the version of the piece in the picture, and whether all this is looked at. */
  arrange(frame: RigidMotion, version: number, isShown: boolean): void {
    if (JSON.stringify(frame) !== JSON.stringify(this.#frame)) {
      this.#frame = frame;
      for (const name of names) this.#free(this.#bodies[name]);
    }
    this.#version = version;
    this.#isShown = isShown;
  }

  set isOverhangShown(isShown: boolean) {
    if (isShown === this.#isOverhangShown) return;
    this.#isOverhangShown = isShown;
    const { surface, scene } = this.#bodies.pieces;
    if (surface) this.#drawn("pieces", scene, surface);
  }

  /** The scene of a body that is shown; undefined where there is none. */
  shown(name: PlanBody): Scene | undefined {
    return this.#surface(name) && this.#bodies[name].scene;
  }

  /** The surfaces that are shown. */
  surfaces(): Surface[] {
    return names.flatMap((name) => this.#surface(name) ?? []);
  }

  boxes(): Box[] {
    return this.surfaces().flatMap(({ box }) => box ?? []);
  }

  /** Frees what lies on the graphics processor; drawn again, it is put there again. */
  release(): void {
    for (const name of names) this.#bodies[name].surface?.dispose();
  }

  dispose(): void {
    for (const name of names) this.#free(this.#bodies[name]);
  }

  #surface(name: PlanBody): Surface | undefined {
    const body = this.#bodies[name];
    if (!this.#isShown || body.version !== this.#version || !body.mesh) return undefined;
    if (!body.surface) {
      const positions = movedPoints(this.#frame, new Float32Array(body.mesh.positions));
      body.surface = Surface.ofOne({
        positions: positions.buffer as ArrayBuffer,
        triangles: body.mesh.triangles,
      });
      this.#drawn(name, body.scene, body.surface);
    }
    return body.surface;
  }

  #drawn(name: PlanBody, scene: Scene, surface: Surface): void {
    const { ghost, props, overhangOfOne, draft } = this.#materials;
    const ofPieces = this.#isOverhangShown ? overhangOfOne : draft;
    const mesh = partlessMesh(
      surface.geometry,
      name === "supports" ? ghost : name === "props" ? props : ofPieces,
    );
    scene.clear();
    scene.add(mesh);
  }

  #free(body: Body): void {
    body.surface?.dispose();
    body.surface = undefined;
    body.scene.clear();
  }
}
