import type { TriangleMesh } from "../geometry/mesh";
import type { Vec3 } from "../geometry/vector";

/** The smallest upright box around a mesh, mm. */
export interface Box {
  readonly least: Vec3;
  readonly most: Vec3;
}

/** How large a closed body is and where its mass lies. */
export interface MassProperties {
  /** mm³; negative when the mesh is inside out. Voids (shells turned inwards) are taken away. */
  readonly volume: number;
  /** mm², the inner surfaces of voids included. */
  readonly area: number;
  /** Centre of mass of the body filled evenly, mm. The centre of the box when the volume is zero. */
  readonly centre: Vec3;
  readonly box: Box;
}

/**
 * The box around the vertices that triangles use, mm.
 * @throws RangeError when the mesh has no triangles or a vertex is not a finite number.
 */
export function boxOf(mesh: TriangleMesh): Box {
  const { positions, triangles } = mesh;
  if (triangles.length === 0) {
    throw new RangeError("The mesh has no triangles: there is nothing to measure.");
  }
  const least: [number, number, number] = [Infinity, Infinity, Infinity];
  const most: [number, number, number] = [-Infinity, -Infinity, -Infinity];
  for (let corner = 0; corner < triangles.length; corner++) {
    const at = 3 * triangles[corner];
    for (let axis = 0; axis < 3; axis++) {
      const value = positions[at + axis];
      if (!Number.isFinite(value)) {
        throw new RangeError(`Vertex ${triangles[corner]} has the coordinate ${value}: it must be finite.`);
      }
      if (value < least[axis]) least[axis] = value;
      if (value > most[axis]) most[axis] = value;
    }
  }
  return { least, most };
}

/** Width (x), depth (y) and height (z) of a box, mm. */
export const boxSize = (box: Box): Vec3 => [
  box.most[0] - box.least[0],
  box.most[1] - box.least[1],
  box.most[2] - box.least[2],
];

/**
 * Volume (mm³), surface area (mm²), centre of mass and box (mm) of a closed mesh: the sum of signed tetrahedra
 * over the triangles (Zhang & Chen 2001, "Efficient feature extraction for 2D/3D objects in mesh
 * representation", ICIP; the divergence theorem of Gauss). The apex is the centre of the box, not the origin, so
 * that a small piece far from the origin loses no digits.
 * @throws RangeError when the mesh has no triangles or a vertex is not a finite number.
 */
export function massProperties(mesh: TriangleMesh): MassProperties {
  const { positions, triangles } = mesh;
  const box = boxOf(mesh);
  const ox = (box.least[0] + box.most[0]) / 2;
  const oy = (box.least[1] + box.most[1]) / 2;
  const oz = (box.least[2] + box.most[2]) / 2;
  let sixfoldVolume = 0;
  let twofoldArea = 0;
  let mx = 0;
  let my = 0;
  let mz = 0;
  for (let corner = 0; corner < triangles.length; corner += 3) {
    const a = 3 * triangles[corner];
    const b = 3 * triangles[corner + 1];
    const c = 3 * triangles[corner + 2];
    const ax = positions[a] - ox;
    const ay = positions[a + 1] - oy;
    const az = positions[a + 2] - oz;
    const bx = positions[b] - ox;
    const by = positions[b + 1] - oy;
    const bz = positions[b + 2] - oz;
    const cx = positions[c] - ox;
    const cy = positions[c + 1] - oy;
    const cz = positions[c + 2] - oz;
    const ux = bx - ax;
    const uy = by - ay;
    const uz = bz - az;
    const vx = cx - ax;
    const vy = cy - ay;
    const vz = cz - az;
    const nx = uy * vz - uz * vy;
    const ny = uz * vx - ux * vz;
    const nz = ux * vy - uy * vx;
    // a · (u × v) equals a · (b × c): six times the tetrahedron from the apex to the triangle.
    const six = ax * nx + ay * ny + az * nz;
    sixfoldVolume += six;
    twofoldArea += Math.sqrt(nx * nx + ny * ny + nz * nz);
    mx += six * (ax + bx + cx);
    my += six * (ay + by + cy);
    mz += six * (az + bz + cz);
  }
  const toMean = sixfoldVolume === 0 ? 0 : 1 / (4 * sixfoldVolume);
  return {
    volume: sixfoldVolume / 6,
    area: twofoldArea / 2,
    centre: [ox + mx * toMean, oy + my * toMean, oz + mz * toMean],
    box,
  };
}
