import { booleans, geometries } from "@jscad/modeling";
import type { TriangleMesh } from "../../src/geometry/mesh";
import type { Figures } from "./figures";
import { randomTubes } from "./model";
import { say } from "./progress";
import { median, repeated, timed } from "./timing";
import { buildAfresh, head, naiveMeshes } from "./tubeSolids";

/** Four tubes, against the library of solids that designs may use. */
export async function smallModel({ tell, least }: Figures): Promise<void> {
  say("N = 4 against @jscad/modeling…");
  const tubes = randomTubes(4);
  const meshes = naiveMeshes(tubes);
  for (let i = 0; i < 3; i++) await buildAfresh(tubes);
  const modeling = await timed(() => buildWithModeling(meshes));
  const own = median(await repeated(5, () => buildAfresh(tubes)));
  tell("N=4 build", own, "ms");
  tell("N=4 with @jscad/modeling", modeling, "ms");
  least("N=4 times faster than @jscad/modeling", modeling / own, "×", 100);
}

function buildWithModeling(meshes: readonly TriangleMesh[]): void {
  const bodies = meshes.map(toGeom3);
  booleans.subtract(booleans.union(bodies), toGeom3(head.mesh));
}

function toGeom3({ positions, triangles }: TriangleMesh) {
  const corner = (i: number): [number, number, number] => [
    positions[3 * triangles[i]],
    positions[3 * triangles[i] + 1],
    positions[3 * triangles[i] + 2],
  ];
  return geometries.geom3.fromPoints(
    Array.from({ length: triangles.length / 3 }, (_, t) => [
      corner(3 * t),
      corner(3 * t + 1),
      corner(3 * t + 2),
    ]),
  );
}
