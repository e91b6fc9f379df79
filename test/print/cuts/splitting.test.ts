import { beforeAll, expect, test } from "vitest";
import { writeStl } from "../../../src/export/stl";
import { auditStl } from "../../../src/export/stlAudit";
import type { PartMesh, TriangleMesh } from "../../../src/geometry/mesh";
import { tracedSolid, triangulated } from "../../../src/geometry/solid/cutting";
import { type Kernel, loadKernel, Scope } from "../../../src/geometry/solid/kernel";
import { sweepTube } from "../../../src/geometry/sweep";
import { lumpsOf } from "../../../src/print/cuts/lumps";
import { type CutPlane, sectionOf } from "../../../src/print/cuts/planeSection";
import { bodiesOf, splitAtFaces } from "../../../src/print/cuts/splitting";
import { box, cube, insideOut, signedVolume, together } from "../../geometry/solid/shapes";
import { tube } from "../../geometry/tubes";
import { circle } from "./bodies";

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

const parted = (mesh: TriangleMesh, part = 0): PartMesh => ({
  ...mesh,
  partOfTriangle: new Int32Array(mesh.triangles.length / 3).fill(part),
});
const triangulate = (loops: Parameters<typeof triangulated>[1]) => triangulated(kernel, loops);
const level = (offset: number): CutPlane => ({ normal: [0, 0, 1], offset });

test("a box cut at a third", () => {
  const mesh = parted(box([0, 0, 0], [10, 20, 30]));
  const section = sectionOf(mesh, level(10));
  expect(section.faces).toHaveLength(1);
  expect(section.faces[0].area).toBeCloseTo(200, 6);
  expect(section.faces[0].perimeter).toBeCloseTo(60, 6);
  for (const [axis, value] of [5, 10, 10].entries()) {
    expect(section.faces[0].centre[axis]).toBeCloseTo(value, 2);
  }
  const bodies = splitAtFaces(mesh, section, [{ face: section.faces[0], number: 7 }], triangulate);
  expect(bodies.map(signedVolume).map((v) => Math.round(v))).toEqual([4000, 2000]);
  for (const body of bodies) {
    expect(auditStl(writeStl(body))).toMatchObject({ closed: true, pieces: 1 });
    expect([...new Set(body.partOfTriangle)].sort((a, b) => a - b)).toEqual([-9, 0]);
  }
});

test("of a ring only one face is cut: it opens, and stays one", () => {
  const mesh = parted(
    sweepTube(
      tube({
        path: { kind: "through", points: circle(60), closed: true },
        radius: { shares: [0], radii: [6] },
      }),
    ),
  );
  const section = sectionOf(mesh, { normal: [1, 0, 0], offset: 0 });
  // A meridian plane cuts a torus in two circles (Pappus; FACTS of geometry: area π r² each).
  expect(section.faces).toHaveLength(2);
  for (const face of section.faces) expect(face.area / (Math.PI * 36)).toBeCloseTo(1, 2);
  const opened = splitAtFaces(mesh, section, [{ face: section.faces[0], number: 0 }], triangulate);
  expect(opened).toHaveLength(1);
  expect(auditStl(writeStl(opened[0])).volumeMm3).toBeCloseTo(signedVolume(mesh), -1);
  const halves = splitAtFaces(
    mesh,
    section,
    section.faces.map((face, number) => ({ face, number })),
    triangulate,
  );
  expect(halves).toHaveLength(2);
});

test("a hollow is cut with its body, or stays in the body that it lies in", () => {
  const mesh = parted(together(box([0, 0, 0], [20, 20, 60]), insideOut(cube([10, 10, 15], 8))));
  const through = sectionOf(mesh, level(15));
  expect(through.faces).toHaveLength(1);
  expect(through.faces[0].area).toBeCloseTo(400 - 64, 6);
  const cut = splitAtFaces(mesh, through, [{ face: through.faces[0], number: 0 }], triangulate);
  expect(cut).toHaveLength(2);
  expect(cut.reduce((sum, body) => sum + signedVolume(body), 0)).toBeCloseTo(24000 - 512, 1);
  for (const body of cut) expect(auditStl(writeStl(body))).toMatchObject({ closed: true, pieces: 1 });

  const above = sectionOf(mesh, level(40));
  const apart = splitAtFaces(mesh, above, [{ face: above.faces[0], number: 0 }], triangulate);
  expect(apart.map((body) => Math.round(signedVolume(body)))).toEqual([16000 - 512, 8000]);
});

test("sections have the area that the kernel's have, on planes at random", () => {
  const seed = 77;
  console.info(`seed ${seed}`);
  let state = seed;
  const random = () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
  const mesh = parted(
    sweepTube(
      tube({
        path: { kind: "through", points: circle(50), closed: true },
        radius: { shares: [0], radii: [9] },
      }),
    ),
  );
  const scope = new Scope();
  try {
    const solid = scope.hold(tracedSolid(kernel, mesh).solid);
    for (let i = 0; i < 20; i++) {
      const [polar, turn] = [Math.acos(2 * random() - 1), 2 * Math.PI * random()];
      const normal = [
        Math.sin(polar) * Math.cos(turn),
        Math.sin(polar) * Math.sin(turn),
        Math.cos(polar),
      ] as const;
      const offset = 30 * (random() - 0.5);
      const section = sectionOf(mesh, { normal, offset });
      // Both sides of the kernel's own cut have the section's area more than the surface had.
      const halves = solid.splitByPlane([...normal], section.plane.offset).map((half) => scope.hold(half));
      const grown = halves.reduce((sum, half) => sum + half.surfaceArea(), 0) - solid.surfaceArea();
      const area = section.faces.reduce((sum, face) => sum + face.area, 0);
      expect(area).toBeCloseTo(grown / 2, 1);
      const bodies = splitAtFaces(
        mesh,
        section,
        section.faces.map((face, number) => ({ face, number })),
        triangulate,
      );
      const pieces = halves.reduce((sum, half) => {
        const own = half.decompose();
        for (const one of own) one.delete();
        return sum + own.length;
      }, 0);
      expect(bodies).toHaveLength(pieces);
    }
  } finally {
    scope.dispose();
  }
});

test("regions by lumps are those of a walk over every edge", () => {
  const mesh = parted(
    together(
      ...[0, 30, 60].map((x) =>
        sweepTube(
          tube({
            path: {
              kind: "through",
              points: [
                [x, 0, 0],
                [x + 5, 20, 40],
                [x, 0, 80],
              ],
              closed: false,
            },
          }),
        ),
      ),
    ),
  );
  for (const cell of [3, 8, 50]) {
    const section = sectionOf(mesh, level(41.3), lumpsOf(mesh, cell));
    expect(section.regionCount).toBe(6);
    const { positions, triangles } = mesh;
    for (let t = 0; t < triangles.length; t += 3) {
      const up = [0, 1, 2].map((k) => positions[3 * triangles[t + k] + 2] > section.plane.offset);
      for (const [a, b] of [
        [0, 1],
        [1, 2],
      ]) {
        const same = section.region[triangles[t + a]] === section.region[triangles[t + b]];
        expect(same).toBe(up[a] === up[b]);
      }
    }
  }
});

test("what is no plane or not closed is refused", () => {
  const mesh = parted(cube([0, 0, 0], 10));
  expect(() => sectionOf(mesh, { normal: [0, 0, 2], offset: 0 })).toThrow(/unit vector/);
  expect(() => sectionOf(mesh, { normal: [0, 0, 1], offset: Number.NaN })).toThrow(RangeError);
  const open = { ...mesh, triangles: mesh.triangles.slice(9), partOfTriangle: mesh.partOfTriangle.slice(3) };
  expect(() => [level(0), { normal: [1, 0, 0] as const, offset: 0 }].map((p) => sectionOf(open, p))).toThrow(
    /not closed/,
  );
  expect(bodiesOf(mesh)).toHaveLength(1);
});
