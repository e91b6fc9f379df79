import type { Manifold } from "manifold-3d";
import { BufferAttribute, BufferGeometry, Line3, Plane, Triangle, Vector3 } from "three";
import { beforeAll, describe, expect, it } from "vitest";
import { loopArea } from "../../src/geometry/loops";
import type { TriangleMesh } from "../../src/geometry/mesh";
import { sliceLoops, sliceMeasures } from "../../src/geometry/slices";
import { type Kernel, loadKernel } from "../../src/geometry/solid/kernel";
import { layerTotals } from "../../src/print/layers/filament";
import { planLayers } from "../../src/print/layers/planLayers";
import { torus } from "../checks/shapes";
import { pla, placed, printer, settings, total } from "../print/layers/bodies";

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

function meshOf(solid: Manifold): TriangleMesh {
  const { vertProperties, triVerts, numProp } = solid.getMesh();
  const positions = new Float32Array((3 * vertProperties.length) / numProp);
  for (let i = 0; i < positions.length; i++) {
    positions[i] = vertProperties[numProp * Math.floor(i / 3) + (i % 3)];
  }
  return { positions, triangles: triVerts.slice() };
}

/** A ring of the head's size with eight arms that lean every way and a ball: tubes that merge, holes, tips. */
function crown(): Manifold {
  const { Manifold, Mesh } = kernel;
  const ring = torus(80, 8, 120, 32);
  const bodies: Manifold[] = [
    Manifold.ofMesh(new Mesh({ numProp: 3, vertProperties: ring.positions, triVerts: ring.triangles })),
    Manifold.sphere(14, 64).translate([80, 0, 20]),
  ];
  for (let i = 0; i < 8; i++) {
    bodies.push(
      Manifold.cylinder(90, 7, 2.5, 40)
        .rotate([0, 12 * i - 30, 45 * i])
        .translate([80 * Math.cos((Math.PI * i) / 4), 80 * Math.sin((Math.PI * i) / 4), 0]),
    );
  }
  const whole = Manifold.union(bodies);
  for (const body of bodies) body.delete();
  return whole;
}

/** Area and outline of a slice by three's plane and line, triangle after triangle. */
function slowSlice({ positions, triangles }: TriangleMesh, height: number) {
  const geometry = new BufferGeometry();
  geometry.setAttribute("position", new BufferAttribute(positions, 3));
  const plane = new Plane(new Vector3(0, 0, 1), -height);
  const corner = (i: number) => new Vector3().fromBufferAttribute(geometry.attributes.position, triangles[i]);
  let [area, perimeter] = [0, 0];
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [corner(t), corner(t + 1), corner(t + 2)];
    const ends: Vector3[] = [];
    for (const [from, to] of [
      [a, b],
      [b, c],
      [c, a],
    ] as const) {
      const hit = plane.intersectLine(new Line3(from, to), new Vector3());
      if (hit) ends.push(hit);
    }
    if (ends.length !== 2) continue;
    // Counter-clockwise around the solid: along the vertical × the outward normal.
    const along = plane.normal.clone().cross(new Triangle(a, b, c).getNormal(new Vector3()));
    const [from, to] = ends[1].clone().sub(ends[0]).dot(along) > 0 ? [ends[0], ends[1]] : [ends[1], ends[0]];
    area += (from.x * to.y - to.x * from.y) / 2;
    perimeter += from.distanceTo(to);
  }
  return { area, perimeter };
}

describe("slices against general-purpose libraries, on 20 planes through a crown", () => {
  it("three 0.187: each triangle cut by Plane.intersectLine; manifold-3d 3: the solid's own slice", () => {
    const solid = crown();
    const mesh = meshOf(solid);
    // Off the heights at which vertices lie, where an edge may count twice for three.
    const heights = Array.from({ length: 20 }, (_, i) => -7.713 + i * 4.6317);
    const { area, perimeter } = sliceMeasures(mesh, heights);
    const loops = sliceLoops(mesh, heights);
    expect(Math.max(...loops.map((slice) => slice.length))).toBeGreaterThan(6);
    expect(loops.some((slice) => slice.some((loop) => loopArea(loop) < 0))).toBe(true);
    heights.forEach((height, i) => {
      const slow = slowSlice(mesh, height);
      expect(area[i], `area at ${height}`).toBeCloseTo(slow.area, 4);
      expect(perimeter[i], `outline at ${height}`).toBeCloseTo(slow.perimeter, 4);
      const section = solid.slice(height);
      expect(Math.abs(area[i] - section.area()), `area at ${height}`).toBeLessThan(1e-3 + 1e-5 * area[i]);
      section.delete();
    });
    solid.delete();
  });
});

describe("a cross of two level tubes, radius 10, 80 mm long each", () => {
  // At height z from their axes each is 80 × 2c with c = √(10² − z²), and they share 2c × 2c: area 2 · 80 · 2c − 4c²,
  // outline 4 · 80, whatever the height.
  it("slices, shells and weight by formula", () => {
    const bar = kernel.Manifold.cylinder(80, 10, 10, 256, true);
    const [along, across] = [bar.rotate([90, 0, 0]), bar.rotate([0, 90, 0])];
    const cross = along.add(across);
    const plan = planLayers(placed(meshOf(cross)), settings, printer);
    expect(plan.count).toBe(100);
    for (let layer = 0; layer < plan.count; layer++) {
      const z = (layer + 0.5) * 0.2 - 10;
      const c = Math.sqrt(100 - z * z);
      expect(plan.area[layer] / (320 * c - 4 * c * c)).toBeCloseTo(1, 2);
      expect(plan.perimeter[layer]).toBeCloseTo(320, 0);
      // A mitred inset of the cross: arms narrower by a line on both sides, shorter by one at both ends.
      if (c < 1) continue;
      const inset = (by: number) => 2 * (80 - 2 * by) * (2 * c - 2 * by) - (2 * c - 2 * by) ** 2;
      const outer = (320 * c - 4 * c * c - inset(0.45)) / 0.45;
      expect(plan.lengths.outerShell[layer] / outer).toBeCloseTo(1, 2);
    }
    // Steinmetz: two tubes less what they share, 16/3 r³; of it the piece, solid.
    const filled = planLayers(placed(meshOf(cross)), { ...settings, infill: 100 }, printer);
    const volume = 2 * Math.PI * 100 * 80 - (16 / 3) * 1000;
    expect(total(filled.pieceVolume) / volume).toBeCloseTo(1, 2);
    expect(layerTotals(filled, pla, printer).pieceGrams / ((volume / 1000) * 1.24)).toBeCloseTo(1, 2);
    for (const solid of [bar, along, across, cross]) solid.delete();
  });

  it("what two bodies share is printed once", () => {
    const { Manifold } = kernel;
    const [a, b] = [Manifold.cube([20, 20, 20]), Manifold.cube([20, 20, 20]).translate([10, 10, 0])];
    const both = a.add(b);
    const plan = planLayers(placed(meshOf(both)), { ...settings, infill: 100 }, printer);
    // 400 + 400 − 100 mm², 20 mm high.
    expect(plan.area[50]).toBeCloseTo(700, 3);
    expect(total(plan.pieceVolume)).toBeCloseTo(14_000, 1);
    for (const solid of [a, b, both]) solid.delete();
  });
});
