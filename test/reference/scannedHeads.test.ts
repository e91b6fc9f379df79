import { BufferAttribute, BufferGeometry, Vector3 } from "three";
import { MeshBVH } from "three-mesh-bvh";
import { beforeAll, describe, expect, it } from "vitest";
import { Random } from "../../src/design/random";
import type { TriangleMesh } from "../../src/geometry/mesh";
import { buildHeadForm } from "../../src/head/headForm";
import { type ScannedWearer, wearerOfScan } from "../../src/head/scannedHead";
import { type Wearer, wearerFromDocument } from "../../src/head/wearer";
import { headFormOf } from "../../src/head/wearerHead";
import {
  bent,
  fineness,
  meanMan,
  meanWoman,
  moved,
  noisy,
  randomRotation,
  withoutFoot,
} from "../head/scanShapes";

const wearerOf = (fields: Record<string, unknown>): Wearer =>
  wearerFromDocument({ name: "Maris", units: "mm", scan: { file: "maris.obj" }, ...fields }).wearer!;

/** The same mesh in three-mesh-bvh 0.9 (MIT), an independent library. */
function reference({ positions, triangles }: TriangleMesh): MeshBVH {
  const geometry = new BufferGeometry();
  geometry.setAttribute("position", new BufferAttribute(positions.slice(), 3));
  geometry.setIndex(new BufferAttribute(triangles.slice(), 1));
  return new MeshBVH(geometry);
}

/** Lengths round the level section of a mesh: each edge that crosses it, joined by the angle about the middle. */
function girthOfHull({ positions: p, triangles }: TriangleMesh, z: number): number {
  const points: (readonly [number, number])[] = [];
  for (let i = 0; i < triangles.length; i++) {
    const a = 3 * triangles[i];
    const b = 3 * triangles[i % 3 === 2 ? i - 2 : i + 1];
    if (p[a + 2] > z === p[b + 2] > z) continue;
    const t = (z - p[a + 2]) / (p[b + 2] - p[a + 2]);
    points.push([p[a] + t * (p[b] - p[a]), p[a + 1] + t * (p[b + 1] - p[a + 1])]);
  }
  // Cauchy's formula: the perimeter of a convex outline is the mean of its widths over all directions, times π.
  let sum = 0;
  const directions = 720;
  for (let k = 0; k < directions; k++) {
    const [c, s] = [Math.cos((Math.PI * k) / directions), Math.sin((Math.PI * k) / directions)];
    let [least, most] = [Infinity, -Infinity];
    for (const [x, y] of points) {
      const along = c * x + s * y;
      if (along < least) least = along;
      if (along > most) most = along;
    }
    sum += most - least;
  }
  return (Math.PI * sum) / directions;
}

const greatest = (mesh: TriangleMesh, from: number, to: number): number => {
  let girth = 0;
  for (let z = from; z <= to; z += 1) girth = Math.max(girth, girthOfHull(mesh, z));
  return girth;
};

describe("a rough open scan in inches, turned and moved, seed 77", () => {
  const random = new Random(77);
  const form = buildHeadForm(meanWoman);
  const scan = noisy(bent(withoutFoot(form.mesh(fineness(16_000)), form), random, 2.5), random, 0.2);
  const movement = { rotation: randomRotation(random), size: 1 / 25.4, shift: [11, -40, 7] as const };
  let made: ScannedWearer;
  let back: TriangleMesh;
  beforeAll(() => {
    made = wearerOfScan(moved(scan, movement), wearerOf({ girth: 562 }), { file: "maris.obj", unit: "in" });
    const m = made.wearer.scanned!.matrix;
    const { positions, triangles } = moved(scan, movement);
    const out = new Float32Array(positions.length);
    for (let i = 0; i < out.length; i++) {
      const [row, at] = [i % 3, i - (i % 3)];
      out[i] =
        m[row] * positions[at] +
        m[4 + row] * positions[at + 1] +
        m[8 + row] * positions[at + 2] +
        m[12 + row];
    }
    back = { positions: out, triangles };
  }, 60_000);

  it("lies within the distance that is told of the form's mesh, by three-mesh-bvh, and that is less than 1.5 mm", () => {
    const head = headFormOf(made.wearer);
    const bvh = reference(head.mesh());
    const target = { point: new Vector3(), distance: 0, faceIndex: 0 };
    const distances: number[] = [];
    for (let i = 0; i < back.positions.length; i += 3) {
      const [x, y, z] = back.positions.subarray(i, i + 3);
      if (z < head.center[2]) continue;
      distances.push(bvh.closestPointToPoint(new Vector3(x, y, z), target)!.distance);
    }
    distances.sort((a, b) => a - b);
    const p95 = distances[Math.floor(0.95 * distances.length)];
    const { within } = made.wearer.scanned!;
    expect(distances.length).toBeGreaterThan(2000);
    // The told one is of points spread over the triangles, this one of the corners, where noise is greatest.
    expect(p95).toBeLessThan(Math.max(1.3 * within, within + 0.15));
    expect(p95).toBeLessThan(1.5);
  });

  it("has the girth of the scan, by Cauchy's formula for the perimeter of a convex outline", () => {
    const head = headFormOf(made.wearer);
    const [from, to] = [head.center[2] - 11, head.center[2] + 20];
    const [ofScan, ofForm] = [greatest(back, from, to), greatest(head.mesh(), from, to)];
    expect(Math.abs(ofForm - ofScan)).toBeLessThan(1);
    expect(Math.abs(made.wearer.measurements.girth - ofScan)).toBeLessThan(0.5);
  });
});

describe("one measured depth scales all of a scan (common practice, no source)", () => {
  it("42.83551 units that should be 209.55 mm turn a 64.12 height into 313.67 mm", () => {
    expect((64.12 * 209.55) / 42.83551).toBeCloseTo(313.67, 2);
    // A head 42.83551 units long; its neck is drawn out until the whole is 64.12 units high.
    const form = buildHeadForm(meanMan);
    const mesh = form.mesh(fineness(8000));
    const unit = form.measured.length / 42.83551;
    const top = form.measured.crownHeight;
    const { baseZ } = form.surface.data;
    const stretch = (top - 64.12 * unit + 100) / (baseZ + 100);
    const positions = mesh.positions.map((value, i) => {
      const z = i % 3 === 2 && value < -100 ? -100 + (value + 100) * stretch : value;
      return z / unit;
    });
    const extent = (values: Float32Array, axis: number): number => {
      const own = values.filter((_, i) => i % 3 === axis);
      return (
        own.reduce((most, value) => Math.max(most, value), -Infinity) -
        own.reduce((least, value) => Math.min(least, value), Infinity)
      );
    };
    expect(extent(positions, 2)).toBeCloseTo(64.12, 2);
    const { wearer } = wearerOfScan({ positions, triangles: mesh.triangles }, wearerOf({ length: 209.55 }), {
      file: "maris.obj",
    });
    const { scale, scaledBy, measured } = wearer.scanned!;
    expect(scaledBy).toBe("length");
    expect(scale).toBeCloseTo(209.55 / 42.83551, 2);
    expect(measured.length).toBeCloseTo(209.55, 2);
    expect(scale * 64.12).toBeCloseTo(313.67, 0);
  });
});
