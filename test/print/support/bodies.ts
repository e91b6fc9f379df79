import type { PartMesh, TriangleMesh } from "../../../src/geometry/mesh";
import type { Vec2, Vec3 } from "../../../src/geometry/vector";
import type { PlacedPiece } from "../../../src/print/placedPiece";
import { defaultPrintSettings, type PrintSettings } from "../../../src/printSettings";
import { meshOf } from "../../checks/shapes";

/** A body as it stands on the plate, all of one part. */
export function standing(mesh: TriangleMesh, part: number | readonly number[] = 0): PlacedPiece {
  const count = mesh.triangles.length / 3;
  const partOfTriangle = typeof part === "number" ? new Int32Array(count).fill(part) : Int32Array.from(part);
  const whole: PartMesh = { ...mesh, partOfTriangle };
  return { mesh: whole, rotation: [1, 0, 0, 0, 1, 0, 0, 0, 1], shift: [0, 0, 0], size: [0, 0, 0] };
}

/** Several bodies, each a part. */
export function parted(...bodies: readonly TriangleMesh[]): PlacedPiece {
  const positions: number[] = [];
  const triangles: number[] = [];
  const parts: number[] = [];
  bodies.forEach((body, part) => {
    const base = positions.length / 3;
    for (const value of body.positions) positions.push(value);
    for (const vertex of body.triangles) triangles.push(vertex + base);
    for (let t = 0; t < body.triangles.length / 3; t++) parts.push(part);
  });
  return standing({ positions: Float32Array.from(positions), triangles: Uint32Array.from(triangles) }, parts);
}

/** A prism along y over a four-sided outline in x and z, counter-clockwise seen from the front (from −y). */
export function prism(outline: readonly [Vec2, Vec2, Vec2, Vec2], y0: number, y1: number): TriangleMesh {
  const points: Vec3[] = [y0, y1].flatMap((y) => outline.map(([x, z]): Vec3 => [x, y, z]));
  const sides = [0, 1, 2, 3].flatMap((i) => {
    const j = (i + 1) % 4;
    return [
      [j, i, i + 4],
      [j, i + 4, j + 4],
    ];
  });
  return meshOf(points, [[0, 1, 2], [0, 2, 3], [4, 6, 5], [4, 7, 6], ...sides]);
}

export const settings = (changes: Partial<PrintSettings> = {}): PrintSettings => ({
  ...defaultPrintSettings,
  ...changes,
});
