import { massProperties } from "../../src/checks/massProperties";
import { type HeadRoom, WornHead } from "../../src/checks/wornHead";
import { WornPiece } from "../../src/checks/wornPiece";
import type { Part } from "../../src/design/part";
import type { TriangleMesh } from "../../src/geometry/mesh";
import { completeMeasurements } from "../../src/head/completeMeasurements";
import { buildHeadForm, type HeadForm } from "../../src/head/headForm";
import type { GivenMeasurements } from "../../src/head/measurements";

/** Bodies to check, on heads of known shape. */

export const formOf = (given: GivenMeasurements = { girth: 566 }): HeadForm =>
  buildHeadForm(completeMeasurements(given).measurements);

const bald: HeadRoom = { ease: 0, hair: 0, hairPressed: 0 };

/** A head of any surface; without one the form of a mean head. */
export const headOf = (scan?: TriangleMesh, room: Partial<HeadRoom> = {}, form = formOf()): WornHead =>
  new WornHead(form, { ...bald, ...room }, scan);

/** A part at a line of its own; a body of any kind when only its name matters. */
export const partOf = (name: string, line = 1, mesh?: TriangleMesh): Part => ({
  kind: "solid",
  name,
  mesh: mesh ?? { positions: new Float32Array(), triangles: new Uint32Array() },
  origin: { file: "tide.headpiece.ts", line, column: 3 },
});

const pla = {
  name: "PLA",
  density: 1.24,
  softening: [55, 65],
  strength: 37,
  modulus: 2.3,
  spool: 1000,
} as const;

/**
 * A piece of one part, or of several meshes in turn, each a part of its own.
 * @param mass g; that of the body filled with PLA unless given
 */
export function pieceOf(
  meshes: TriangleMesh | readonly TriangleMesh[],
  options: { readonly parts?: readonly Part[]; readonly mass?: number; readonly hollow?: number } = {},
): WornPiece {
  const list = Array.isArray(meshes) ? (meshes as readonly TriangleMesh[]) : [meshes as TriangleMesh];
  const positions: number[] = [];
  const triangles: number[] = [];
  const partOfTriangle: number[] = [];
  list.forEach((mesh, part) => {
    const base = positions.length / 3;
    for (const value of mesh.positions) positions.push(value);
    for (const vertex of mesh.triangles) triangles.push(vertex + base);
    for (let t = 0; t < mesh.triangles.length / 3; t++) partOfTriangle.push(part);
  });
  const mesh = {
    positions: Float32Array.from(positions),
    triangles: Uint32Array.from(triangles),
    partOfTriangle: Int32Array.from(partOfTriangle),
  };
  const body = massProperties(mesh);
  return new WornPiece({
    mesh,
    parts: options.parts ?? list.map((own, i) => partOf(`part ${i + 1}`, i + 1, own)),
    material: pla,
    print: { shells: 3, lineWidth: 0.45, infill: 15 },
    mass: options.mass ?? (Math.abs(body.volume) / 1000) * pla.density,
    centre: body.centre,
  });
}
