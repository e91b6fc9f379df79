import { beforeAll, expect, test } from "vitest";
import type { PartMesh } from "../../src/geometry/mesh";
import { triangulated } from "../../src/geometry/solid/cutting";
import { type Kernel, loadKernel } from "../../src/geometry/solid/kernel";
import { sweepTube } from "../../src/geometry/sweep";
import type { Vec3 } from "../../src/geometry/vector";
import { sectionOf } from "../../src/print/cuts/planeSection";
import { splitAtFaces } from "../../src/print/cuts/splitting";
import { signedVolume } from "../geometry/solid/shapes";
import { tube } from "../geometry/tubes";

/**
 * Cuts against closed forms: Pappus' theorems for the torus, the ellipse in which a plane cuts a cylinder, the ungula
 * of a cylinder (E. W. Weisstein, MathWorld: "Torus", "Cylindrical Segment", "Cylindrical Wedge" [from memory]).
 */

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

const parted = (shape: Parameters<typeof sweepTube>[0]): PartMesh => {
  const mesh = sweepTube(shape, 0.02);
  return { ...mesh, partOfTriangle: new Int32Array(mesh.triangles.length / 3) };
};

function cut(mesh: PartMesh, normal: Vec3, offset: number) {
  const section = sectionOf(mesh, { normal, offset });
  const faces = section.faces.map((face, number) => ({ face, number }));
  return { section, bodies: splitAtFaces(mesh, section, faces, (loops) => triangulated(kernel, loops)) };
}

test("a cylinder cut aslant: an ellipse π r² / cos θ, and two cylindrical segments π r² (h₁ + h₂) / 2", () => {
  const [r, h] = [7, 100];
  const mesh = parted(
    tube({
      path: {
        kind: "through",
        points: [
          [0, 0, 0],
          [0, 0, h],
        ],
        closed: false,
      },
      radius: { shares: [0], radii: [r] },
    }),
  );
  for (const degrees of [0, 20, 40, 60]) {
    const angle = (degrees * Math.PI) / 180;
    const { section, bodies } = cut(mesh, [Math.sin(angle), 0, Math.cos(angle)], 40 * Math.cos(angle));
    expect(section.faces).toHaveLength(1);
    const ellipse = (Math.PI * r * r) / Math.cos(angle);
    expect(section.faces[0].area / ellipse).toBeCloseTo(1, 2);
    // The plane meets the axis at 40 mm: the mean height of the lower segment.
    expect(bodies.map(signedVolume).map((v) => v / (Math.PI * r * r))).toEqual([
      expect.closeTo(60, 0),
      expect.closeTo(40, 0),
    ]);
  }
});

test("a torus cut level: a ring of 4 π R r, and two halves of π² R r²", () => {
  const [R, r] = [80, 5];
  const points = Array.from({ length: 48 }, (_, i): Vec3 => {
    const t = (2 * Math.PI * i) / 48;
    return [R * Math.cos(t), R * Math.sin(t), 0];
  });
  const mesh = parted(
    tube({ path: { kind: "through", points, closed: true }, radius: { shares: [0], radii: [r] } }),
  );
  const { section, bodies } = cut(mesh, [0, 0, 1], 0);
  expect(section.faces).toHaveLength(1);
  expect(section.faces[0].loops).toHaveLength(2);
  expect(section.faces[0].area / (4 * Math.PI * R * r)).toBeCloseTo(1, 2);
  expect(bodies).toHaveLength(2);
  for (const body of bodies) expect(signedVolume(body) / (Math.PI ** 2 * R * r * r)).toBeCloseTo(1, 2);

  // Villarceau: at the slope asin(r / R) a plane through the middle cuts two circles of radius R; they cross, so the
  // plane is set beside them: two crescents' worth of area, and no more than the level ring.
  const slope = Math.asin(r / R);
  const aslant = cut(mesh, [Math.sin(slope), 0, Math.cos(slope)], 0.05);
  const area = aslant.section.faces.reduce((sum, face) => sum + face.area, 0);
  // The union of both discs less their overlap, twice: circles of radius R about points r either side of the middle.
  const d = 2 * r;
  const lens = 2 * R * R * Math.acos(d / (2 * R)) - (d / 2) * Math.sqrt(4 * R * R - d * d);
  expect(area / (2 * (Math.PI * R * R - lens))).toBeCloseTo(1, 1);
});
