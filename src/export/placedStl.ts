import type { TriangleMesh } from "../geometry/mesh";
import { distinctMesh } from "./distinctMesh";
import { writeStl } from "./stl";

/** Farther from the plate than this, a body does not stand on it, mm. */
const plateTolerance = 1e-3;

/**
 * A body as it stands on the plate (origin at the plate's middle, z up, lowest point at 0) as binary STL, millimetres. The
 * header says the name, that it lies as printed, and the unit. No two vertices coincide, so that it is closed for every
 * reader.
 * @throws RangeError when the mesh is broken, or does not stand on the plate.
 */
export function placedStl(mesh: TriangleMesh, name: string): Uint8Array {
  const apart = distinctMesh(mesh);
  let lowest = Infinity;
  for (const vertex of apart.triangles) lowest = Math.min(lowest, apart.positions[3 * vertex + 2]);
  if (Math.abs(lowest) > plateTolerance) {
    throw new RangeError(
      `The lowest point of "${name}" lies ${lowest.toFixed(3)} mm over the plate: lay it on the plate first.`,
    );
  }
  return writeStl(apart, name, "as printed");
}
