import { BodyMaker } from "../../src/build/bodies";
import { crumbVolume } from "../../src/build/engine";
import type { TubePart } from "../../src/design/part";
import { Curve } from "../../src/geometry/curve";
import type { TriangleMesh } from "../../src/geometry/mesh";
import { radiusProfile } from "../../src/geometry/radius";
import { solidOfMesh } from "../../src/geometry/solid/body";
import type { Kernel } from "../../src/geometry/solid/kernel";
import { SolidBuilder, type SolidInput } from "../../src/geometry/solid/solidBuilder";
import { defaultTolerance } from "../../src/geometry/sweep";
import type { TubeShape } from "../../src/geometry/tubeShape";
import { grownHead, naiveSweep } from "./model";
import { kernel } from "./programs";

/** The head that the tubes stand on. */
export const head = { key: "bench head", mesh: grownHead() };

export const partsOf = (tubes: readonly TubeShape[]): TubePart[] =>
  tubes.map((shape, i) => ({ kind: "tube", name: `tube ${i + 1}`, shape }));

export const inputOf = (maker: BodyMaker, parts: readonly TubePart[]): SolidInput => {
  const { bodies, cuts } = maker.bodiesOf(parts);
  return { bodies, cuts, head, crumbVolume };
};

/** A whole build from nothing: sweep, unite, hollow, finish. */
export async function buildAfresh(tubes: readonly TubeShape[]) {
  const builder = new SolidBuilder(kernel);
  try {
    return await builder.build(inputOf(new BodyMaker(defaultTolerance), partsOf(tubes)));
  } finally {
    builder.dispose();
  }
}

export function naiveMeshes(tubes: readonly TubeShape[]): TriangleMesh[] {
  return tubes.map((shape) => {
    const curve = new Curve(shape.path);
    const radius = radiusProfile(shape.radius);
    return naiveSweep(
      (s) => curve.pointAt(s),
      (s) => curve.tangentAt(s),
      (s) => radius.at(s),
    );
  });
}

/** The naive way: the kernel on evenly swept tubes, without the time of the sweep. */
export function buildNaively({ Manifold }: Kernel, meshes: readonly TriangleMesh[]): void {
  const solids = meshes.map((mesh, i) => solidOfMesh(kernel, mesh, `tube ${i}`));
  const union = Manifold.union(solids);
  const hollow = solidOfMesh(kernel, head.mesh, "head");
  const piece = union.subtract(hollow);
  piece.numTri();
  for (const solid of [...solids, union, hollow, piece]) solid.delete();
}
