import type { Vec3 } from "../../geometry/vector";
import type { Lumps } from "./lumps";
import type { Section } from "./planeSection";

/** Directions over the whole sphere, each with its opposite. */
const directions: readonly Vec3[] = Array.from({ length: 37 }, (_, i): Vec3 => {
  const z = 1 - (i + 0.5) / 37;
  const across = Math.sqrt(1 - z * z);
  const azimuth = i * Math.PI * (3 - Math.sqrt(5));
  return [across * Math.cos(azimuth), across * Math.sin(azimuth), z];
}).flatMap(([x, y, z]): Vec3[] => [
  [x, y, z],
  [-x, -y, -z],
]);

/**
 * Of each region of a cut mesh the vertices that lie farthest out in 74 directions, x, y, z in turn: they stand for its
 * extents. Without a section, of the whole mesh.
 */
export function outermost(positions: Float32Array, lumps: Lumps, section?: Section): Float64Array[] {
  const regions = section?.regionCount ?? 1;
  const { count, centres, radii, members, memberFrom } = lumps;
  const bound = new Float64Array(count);
  const best = new Float64Array(regions);
  const chosen = Array.from({ length: regions }, () => new Set<number>());
  const farthest = new Int32Array(regions);
  for (const [dx, dy, dz] of directions) {
    best.fill(-Infinity);
    farthest.fill(-1);
    const look = (vertex: number): void => {
      const region = section ? section.region[vertex] : 0;
      const here =
        dx * positions[3 * vertex] + dy * positions[3 * vertex + 1] + dz * positions[3 * vertex + 2];
      if (here > best[region]) {
        best[region] = here;
        farthest[region] = vertex;
      }
    };
    for (let i = 0; i < count; i++) {
      bound[i] = dx * centres[3 * i] + dy * centres[3 * i + 1] + dz * centres[3 * i + 2] + radii[i];
      look(members[memberFrom[i]]);
    }
    for (let i = 0; i < count; i++) {
      const mixed = section !== undefined && section.side[i] === 0;
      if (!mixed && bound[i] <= best[section ? section.region[members[memberFrom[i]]] : 0]) continue;
      for (let k = memberFrom[i] + 1; k < memberFrom[i + 1]; k++) look(members[k]);
    }
    for (let region = 0; region < regions; region++) {
      if (farthest[region] >= 0) chosen[region].add(farthest[region]);
    }
  }
  return chosen.map((vertices) =>
    Float64Array.from(
      [...vertices].flatMap((vertex) => [
        positions[3 * vertex],
        positions[3 * vertex + 1],
        positions[3 * vertex + 2],
      ]),
    ),
  );
}
