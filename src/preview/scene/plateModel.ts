import {
  BufferAttribute,
  BufferGeometry,
  type Color,
  FrontSide,
  LineBasicMaterial,
  LineSegments,
  Matrix4,
  Mesh,
  MeshBasicMaterial,
  Scene,
} from "three";
import type { PlateScene } from "../protocol";
import { dashed, edgeAt, gridLines, outlinePoints, type Segments, volumeLines } from "./plateOutline";
import type { Theme } from "./theme";
import type { Vector } from "./vector";

/** The printer's plate with its grid, and the edges of the build volume over it. */
export class PlateModel {
  readonly scene = new Scene();
  isShown = true;
  readonly #grid = new LineBasicMaterial();
  readonly #edge = new LineBasicMaterial();
  readonly #volume = new LineBasicMaterial({ transparent: true, opacity: 0.7 });
  readonly #floor = new MeshBasicMaterial({
    transparent: true,
    opacity: 0.05,
    depthWrite: false,
    side: FrontSide,
  });
  #gridLines: LineSegments | undefined;
  #plate: PlateScene | undefined;
  #toHead = new Matrix4();
  #theme: Theme | undefined;

  get plate(): PlateScene | undefined {
    return this.#plate;
  }

  /** The plate's normal in the head frame; up while there is none. */
  get up(): Vector {
    const [x, y, z] = this.#toHead.elements.slice(8, 11);
    return [x, y, z];
  }

  /** The plate's corners in the head frame, x, y, z in turn. */
  corners(): number[] {
    if (!this.#plate) return [];
    return outlinePoints(this.#plate.outline).flatMap(([x, y]) => this.#place(x, y, 0));
  }

  /** How far the build volume reaches from a point, mm. */
  reachFrom([x, y, z]: Vector): number {
    if (!this.#plate) return 0;
    const { height, outline } = this.#plate;
    const half =
      outline.shape === "round" ? outline.diameter / 2 : Math.hypot(outline.width, outline.depth) / 2;
    const middle = this.#place(0, 0, height / 2);
    return Math.hypot(middle[0] - x, middle[1] - y, middle[2] - z) + Math.hypot(half, height / 2);
  }

  /** Middle of the plate's front edge, where its label stands, head frame. */
  labelPlace(): Vector | undefined {
    if (!this.#plate) return undefined;
    const { outline } = this.#plate;
    return this.#place(0, (outline.shape === "round" ? outline.diameter : outline.depth) / 2, 0);
  }

  /** Tells whether it is another than before. Throws a RangeError where the transform is not of 16 numbers. */
  take(plate: PlateScene): boolean {
    if (JSON.stringify(plate) === JSON.stringify(this.#plate)) return false;
    if (plate.toHead.length !== 16 || !plate.toHead.every(Number.isFinite)) {
      throw new RangeError("the plate's transform is not 16 numbers");
    }
    this.#plate = plate;
    this.#toHead = new Matrix4().fromArray([...plate.toHead]);
    this.#free();
    const told = (lines: Segments) => (plate.fits ? lines : dashed(lines));
    this.#gridLines = this.#lines(gridLines(plate.outline), this.#grid);
    this.#lines(told(edgeAt(plate.outline, 0)), this.#edge);
    this.#lines(told(volumeLines(plate.outline, plate.height)), this.#volume);
    this.#place3d(new Mesh(floorOf(plate), this.#floor));
    this.#colour();
    return true;
  }

  setTheme(theme: Theme): void {
    this.#theme = theme;
    this.#colour();
  }

  /**
   * Leaves out the grid for an eye under the plate, which looks at the piece through it, and while a head stands in the
   * plate: the lines would cross the face.
   */
  setEye(towards: Vector, isHeadShown: boolean): void {
    const up = this.up;
    const isAbove = towards[0] * up[0] + towards[1] * up[1] + towards[2] * up[2] > -0.02;
    if (this.#gridLines) this.#gridLines.visible = isAbove && !isHeadShown;
  }

  /** Frees what lies on the graphics processor; drawn again, it is put there again. */
  release(): void {
    for (const object of this.scene.children) (object as Mesh | LineSegments).geometry.dispose();
    for (const material of [this.#grid, this.#edge, this.#volume, this.#floor]) material.dispose();
  }

  dispose(): void {
    this.release();
    this.#free();
  }

  #colour(): void {
    const theme = this.#theme;
    if (!theme) return;
    const isMisfit = this.#plate?.fits === false;
    const set = (to: Color, of: readonly [number, number, number]) => to.setRGB(...of);
    set(this.#grid.color, theme.grid);
    set(this.#edge.color, isMisfit ? theme.misfit : theme.plateEdge);
    set(this.#volume.color, isMisfit ? theme.misfit : theme.plateEdge);
    set(this.#floor.color, isMisfit ? theme.misfit : theme.foreground);
    this.#volume.opacity = theme.isHighContrast || isMisfit ? 1 : 0.45;
  }

  #place(x: number, y: number, z: number): [number, number, number] {
    const e = this.#toHead.elements;
    return [
      e[0] * x + e[4] * y + e[8] * z + e[12],
      e[1] * x + e[5] * y + e[9] * z + e[13],
      e[2] * x + e[6] * y + e[10] * z + e[14],
    ];
  }

  #lines(segments: Segments, material: LineBasicMaterial): LineSegments {
    const geometry = new BufferGeometry();
    geometry.setAttribute("position", new BufferAttribute(new Float32Array(segments), 3));
    return this.#place3d(new LineSegments(geometry, material));
  }

  #place3d<T extends Mesh | LineSegments>(object: T): T {
    object.matrixAutoUpdate = false;
    object.matrix.copy(this.#toHead);
    object.frustumCulled = false;
    this.scene.add(object);
    return object;
  }

  #free(): void {
    for (const object of [...this.scene.children]) {
      (object as Mesh | LineSegments).geometry.dispose();
      this.scene.remove(object);
    }
  }
}

/** The plate itself as a fan of triangles. */
function floorOf({ outline }: PlateScene): BufferGeometry {
  const points = outlinePoints(outline);
  const geometry = new BufferGeometry();
  const corners = points.flatMap(([x, y], i) => {
    const next = points[(i + 1) % points.length];
    return [0, 0, 0, x, y, 0, next[0], next[1], 0];
  });
  geometry.setAttribute("position", new BufferAttribute(new Float32Array(corners), 3));
  return geometry;
}
