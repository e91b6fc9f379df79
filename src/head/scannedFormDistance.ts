import { evenSamples } from "../geometry/evenSamples";
import { emptyPlace, TriangleTree } from "../geometry/triangleTree";
import type { HeadForm } from "./headForm";

/** Points of the scan that are asked, about. */
const asked = 12_000;
/** Share of the scan that lies within the distance. */
const told = 0.95;
/** Past this many times the length of the head no skin is looked for. */
const farthest = 2;

/**
 * The distance from the form's mesh within which 95 % of a scan's skin above the girth lies, mm: of points spread
 * evenly over the scan, those that nothing lies before as seen from the head's centre; walls inside are no skin.
 * 0 where the scan has no skin there.
 */
export function distanceToForm(scan: TriangleTree, form: HeadForm): number {
  const { center } = form;
  const { positions: p, triangles } = scan.mesh;
  const above = (triangle: number): boolean =>
    [0, 1, 2].every((corner) => p[3 * triangles[3 * triangle + corner] + 2] >= center[2]);
  const { count, positions } = evenSamples(scan.mesh, asked, above);
  const reach = farthest * form.measurements.length;
  const tree = new TriangleTree(form.mesh());
  const place = emptyPlace();
  const distances: number[] = [];
  for (let i = 0; i < 3 * count; i += 3) {
    const [x, y, z] = [positions[i], positions[i + 1], positions[i + 2]];
    const [dx, dy, dz] = [x - center[0], y - center[1], z - center[2]];
    const radius = Math.hypot(dx, dy, dz);
    if (!(radius > 0 && radius < reach)) continue;
    // From a little off the point, so that its own triangle is not met.
    if (scan.meets(x, y, z, dx / radius, dy / radius, dz / radius, reach, 0.5)) continue;
    distances.push(tree.nearest(x, y, z, place, Infinity, place.triangle).distance);
  }
  distances.sort((a, b) => a - b);
  return distances.length > 0 ? distances[Math.ceil(told * distances.length) - 1] : 0;
}
