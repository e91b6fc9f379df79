import { afterEach, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { BodyMaker } from "../../../src/build/bodies";
import { writeStl } from "../../../src/export/stl";
import { auditStl } from "../../../src/export/stlAudit";
import { type Kernel, loadKernel } from "../../../src/geometry/solid/kernel";
import { SolidBuilder } from "../../../src/geometry/solid/solidBuilder";
import { defaultTolerance } from "../../../src/geometry/sweep";
import type { TubeShape } from "../../../src/geometry/tubeShape";
import { voxelVolume } from "../../bench/voxels";
import { circlePoints, hairpin, sampled, trefoilAt, tube, turned } from "../tubes";

/**
 * A tube that overlaps itself becomes the true solid: every point of every section. Against a closed form or against
 * the count of the cells of a grid that lie within the radius of the path.
 */

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});
let builder: SolidBuilder;
beforeEach(() => {
  builder = new SolidBuilder(kernel);
});
afterEach(() => builder.dispose());

/** Volume of the STL, which must be one closed piece. */
async function volumeOf(...shapes: readonly TubeShape[]): Promise<number> {
  const parts = shapes.map((shape, i) => ({ kind: "tube" as const, name: `tube ${i}`, shape }));
  const found = await builder.build({ ...new BodyMaker(defaultTolerance).bodiesOf(parts), crumbVolume: 1 });
  const audit = auditStl(writeStl(found.mesh));
  expect(audit).toMatchObject({ closed: true, pieces: 1, insideOut: 0 });
  expect(found.lost).toEqual([]);
  return audit.volumeMm3;
}

const off = (value: number, truth: number) => Math.abs(value / truth - 1);
const nowhere = () => true;

describe("spindle torus", () => {
  /** Disc of radius r about a point R from the axis, R < r, turned about the axis (Pappus; Weisstein, "Spindle Torus"). */
  const spindle = (R: number, r: number) => {
    const h = Math.sqrt(r * r - R * R);
    return (
      (2 / 3) * Math.PI * (2 * r * r + R * R) * h + Math.PI * r * r * R * (Math.PI + 2 * Math.atan(R / h))
    );
  };

  test("its closed form is the sum of its shells", () => {
    const [R, r, n] = [10, 15, 200_000];
    let sum = 0;
    for (let i = 0; i < n; i++) {
      const rho = ((i + 0.5) / n) * (R + r);
      sum += 2 * Math.PI * rho * 2 * Math.sqrt(Math.max(0, r * r - (rho - R) ** 2)) * ((R + r) / n);
    }
    expect(off(sum, spindle(R, r))).toBeLessThan(1e-6);
  });

  test.each([
    [10, 15],
    [20, 22],
    [6, 14],
  ])("path of radius %d, tube of radius %d", async (R, r) => {
    const path = { kind: "through", points: circlePoints(48, R).map(turned), closed: true } as const;
    const volume = await volumeOf(tube({ path, radius: { shares: [0], radii: [r] } }));
    expect(off(volume, spindle(R, r))).toBeLessThan(0.005);
  });
});

test("hairpin: half circle of radius 4, tube of radius 8", async () => {
  const path = { kind: "through", points: hairpin(4, 40).map(turned), closed: false } as const;
  const shape = tube({ path, radius: { shares: [0], radii: [8] } });
  expect(off(await volumeOf(shape), voxelVolume([shape], nowhere, 0.4))).toBeLessThan(0.005);
});

test("trefoil through itself", async () => {
  const path = { kind: "through", points: sampled(48, trefoilAt(40, 15)).map(turned), closed: true } as const;
  const shape = tube({ path, radius: { shares: [0], radii: [17] } });
  expect(off(await volumeOf(shape), voxelVolume([shape], nowhere, 0.6))).toBeLessThan(0.005);
});

test("tapering spiral that grows into itself", async () => {
  const points = sampled(
    40,
    (t) => {
      const [angle, out] = [5 * Math.PI * t, 30 - 20 * t];
      return turned([out * Math.cos(angle), out * Math.sin(angle), 14 * t]);
    },
    true,
  );
  const shape = tube({
    path: { kind: "through", points, closed: false },
    radius: { shares: [0, 1], radii: [9, 4] },
  });
  expect(off(await volumeOf(shape), voxelVolume([shape], nowhere, 0.4))).toBeLessThan(0.005);
});

test("a cured tube unites with others: hairpin and a straight rod through it", async () => {
  const path = { kind: "through", points: hairpin(4, 40).map(turned), closed: false } as const;
  const bent = tube({ path, radius: { shares: [0], radii: [8] } });
  const rod = tube({
    path: { kind: "through", points: [turned([-40, 30, 3]), turned([40, 22, -2])], closed: false },
    radius: { shares: [0], radii: [6] },
  });
  expect(off(await volumeOf(bent, rod), voxelVolume([bent, rod], nowhere, 0.4))).toBeLessThan(0.005);
});
