import Module, { type Manifold as Solid } from "manifold-3d";
import { beforeAll, describe, expect, it } from "vitest";
import { Random } from "../../src/design/random";
import type { BodyPiece } from "../../src/geometry/bodyPiece";
import { Curve } from "../../src/geometry/curve";
import type { TriangleMesh } from "../../src/geometry/mesh";
import { overlapPieces } from "../../src/geometry/overlapPieces";
import { radiusProfile } from "../../src/geometry/radius";
import { findSelfOverlap } from "../../src/geometry/selfOverlap";
import { sweepTube } from "../../src/geometry/sweep";
import type { TubeShape } from "../../src/geometry/tubeShape";
import type { Vec2, Vec3 } from "../../src/geometry/vector";
import { unionOfSections } from "./sections";
import { meshFault, tube, turned } from "./tubes";

let kernel: Awaited<ReturnType<typeof Module>>;
beforeAll(async () => {
  kernel = await Module();
  kernel.setup();
});

/** Two straight legs of `leg` mm that turn by `angle` degrees within a few mm. */
const elbow = (angle: number, leg: number): Vec3[] => {
  const a = (angle * Math.PI) / 180;
  const out: Vec3 = [Math.cos(a), Math.sin(a), 0];
  const on = (d: number): Vec3 => (d < 0 ? [d, 0, 0] : [d * out[0], d * out[1], 0]);
  return [-leg, -leg / 2, -4, 4, leg / 2, leg].map(on).map(turned);
};
const bent = (points: Vec3[], radius: number, given: Partial<TubeShape> = {}, closed = false) =>
  tube({ path: { kind: "through", points, closed }, radius: { shares: [0], radii: [radius] }, ...given });
const star: Vec2[] = Array.from({ length: 10 }, (_, i): Vec2 => {
  const [r, t] = [i % 2 === 0 ? 1.1 : 0.7, (Math.PI * i) / 5];
  return [r * Math.cos(t), r * Math.sin(t)];
});
const strap: Vec2[] = [
  [-1, -0.5],
  [1, -0.5],
  [1, 0.5],
  [-1, 0.5],
];
const outline = (points: Vec2[]) => ({ section: { kind: "outline", points } as const });
/** A closed path with four tight corners. */
const frame = [
  [50, 50, 0],
  [-50, 50, 4],
  [-50, -50, 0],
  [50, -50, 4],
].flatMap(([x, y, z]): Vec3[] => {
  const [sx, sy] = [Math.sign(x), Math.sign(y)];
  const [a, b]: Vec3[] = [
    [x - 4 * sx, y, z],
    [x, y - 4 * sy, z],
  ];
  return sx * sy > 0 ? [b, a] : [a, b];
});

/** A tube that wanders through space with tight, uneven bends. */
function wanderer(random: Random): TubeShape {
  let [heading, climb] = [0, 0];
  let p: Vec3 = [0, 0, 0];
  const points: Vec3[] = [p];
  for (let i = 0; i < 6; i++) {
    const step = random.between(22, 34);
    p = [
      p[0] + step * Math.cos(heading) * Math.cos(climb),
      p[1] + step * Math.sin(heading) * Math.cos(climb),
      p[2] + step * Math.sin(climb),
    ];
    points.push(p);
    heading += random.between(-1.3, 1.3);
    climb = random.between(-0.5, 0.5);
  }
  return bent(points, 0, {
    radius: { shares: [0, 1], radii: [random.between(6, 13), random.between(6, 13)] },
  });
}

/** The mesh of a tube that comes back as one piece, not as its plain sweep. */
function onlyMesh(shape: TubeShape): TriangleMesh {
  const pieces = overlapPieces(shape);
  expect(pieces.length).toBe(1);
  const [piece] = pieces;
  if (piece.kind !== "mesh") throw new Error("a hull");
  return piece.mesh;
}

/** Sections of a round tube, near one another: asked for points, without any code of the cure. */
function slices(shape: TubeShape) {
  const curve = new Curve(shape.path);
  const radius = radiusProfile(shape.radius);
  const count = Math.ceil(curve.length / 0.1) + 1;
  const at = Array.from({ length: count }, (_, i) => {
    const share = i / (count - 1);
    return { c: curve.pointAt(share), t: curve.tangentAt(share), r: radius.at(share) };
  });
  const ahead = (i: number, p: Vec3) =>
    (p[0] - at[i].c[0]) * at[i].t[0] + (p[1] - at[i].c[1]) * at[i].t[1] + (p[2] - at[i].c[2]) * at[i].t[2];
  /** Whether a section that passes the point reaches farther than it by `by` mm. */
  return (p: Vec3, by: number): boolean => {
    for (let i = 0; i + 1 < count; i++) {
      const d = Math.hypot(p[0] - at[i].c[0], p[1] - at[i].c[1], p[2] - at[i].c[2]);
      if (d < at[i].r - by && ahead(i, p) * ahead(i + 1, p) <= 0) return true;
    }
    return false;
  };
}

/** Points in the middle of triangles, moved out by `by` mm. */
function shiftedMiddles({ positions: p, triangles: t }: TriangleMesh, by: number): Vec3[] {
  const found: Vec3[] = [];
  for (let i = 0; i < t.length; i += 3) {
    const [a, b, c] = [0, 1, 2].map((k): Vec3 => [p[t[i + k] * 3], p[t[i + k] * 3 + 1], p[t[i + k] * 3 + 2]]);
    const [u, v] = [b, c].map((q): Vec3 => [q[0] - a[0], q[1] - a[1], q[2] - a[2]]);
    const n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
    const size = Math.hypot(...n);
    if (size < 0.02) continue;
    const at = (k: number) => (a[k] + b[k] + c[k]) / 3 + (by * n[k]) / size;
    found.push([at(0), at(1), at(2)]);
  }
  return found;
}

function solidOf(piece: BodyPiece): Solid {
  if (piece.kind === "mesh") {
    const { positions, triangles } = piece.mesh;
    return kernel.Manifold.ofMesh(
      new kernel.Mesh({ numProp: 3, vertProperties: positions, triVerts: triangles }),
    );
  }
  const p = piece.points;
  return kernel.Manifold.hull(
    Array.from({ length: p.length / 3 }, (_, i): [number, number, number] => [
      p[3 * i],
      p[3 * i + 1],
      p[3 * i + 2],
    ]),
  );
}

function check(shape: TubeShape, voxel: number, within: number): void {
  const mesh = onlyMesh(shape);
  expect(meshFault(mesh)).toBeUndefined();
  const solid = solidOf({ kind: "mesh", mesh });
  const parts = solid.decompose();
  expect(parts.length).toBe(1);
  expect(Math.abs(solid.volume() / unionOfSections(shape, voxel) - 1)).toBeLessThan(within);
  for (const each of [...parts, solid]) each.delete();
}

describe("folds are taken out of a tube as one closed mesh of the true volume", () => {
  it.each<[string, TubeShape]>([
    ["an elbow of 60°", bent(elbow(60, 50), 10)],
    ["an elbow of 90°", bent(elbow(90, 50), 10)],
    ["an elbow of 120°", bent(elbow(120, 50), 10)],
    ["an elbow of 140° between long legs", bent(elbow(140, 60), 8)],
    ["an elbow that tapers", bent(elbow(90, 50), 0, { radius: { shares: [0, 1], radii: [12, 5] } })],
    [
      "an elbow between round ends",
      bent(elbow(80, 40), 9, { startTip: { kind: "round" }, endTip: { kind: "round" } }),
    ],
    [
      "an elbow that ends in a point",
      bent(elbow(80, 40), 9, { endTip: { kind: "point", radius: 1, length: 25 } }),
    ],
    ["a star", bent(elbow(90, 50), 10, outline(star))],
    ["a closed frame", bent(frame.map(turned), 8, {}, true)],
    ["a closed frame of straps", bent(frame.map(turned), 9, outline(strap), true)],
  ])("%s", (_, shape) => {
    expect(findSelfOverlap(shape).some((overlap) => overlap.reason === "bend")).toBe(true);
    check(shape, shape.path.closed ? 0.9 : 0.6, 0.0025);
  });

  it.each<[string, TubeShape]>([
    ["a strap whose face lies along the fold", bent(elbow(90, 50), 12, outline(strap))],
    ["a strap that twists in the bend", bent(elbow(80, 50), 12, { ...outline(strap), twist: 90 })],
    ["a bend that reaches to the end", bent(elbow(120, 50).slice(0, 5), 10)],
    ["an elbow of 170°", bent(elbow(170, 40), 8)],
  ])("%s comes back in pieces that unite to the true volume", (_, shape) => {
    const pieces = overlapPieces(shape);
    const solids = pieces.map(solidOf);
    const solid = kernel.Manifold.union(solids);
    expect(Math.abs(solid.volume() / unionOfSections(shape, 0.45) - 1)).toBeLessThan(0.005);
    for (const each of [...solids, solid]) each.delete();
  });

  it("nine of ten that wander through space, seeded, and those leave no flap within themselves", () => {
    const random = new Random(7);
    let [flagged, single] = [0, 0];
    for (let i = 0; i < 24; i++) {
      const shape = wanderer(random.named(i));
      const found = findSelfOverlap(shape);
      if (found.length === 0 || found.some((overlap) => overlap.reason === "near")) continue;
      flagged++;
      const pieces = overlapPieces(shape);
      if (pieces.length > 1) continue;
      single++;
      if (single > 5) continue;
      check(shape, 0.7, 0.003);
      const isWithin = slices(shape);
      const flaps = shiftedMiddles(onlyMesh(shape), 0.15).filter((p) => isWithin(p, 0.25));
      expect(flaps).toEqual([]);
      const strays = shiftedMiddles(onlyMesh(shape), -0.4).filter((p) => !isWithin(p, 0));
      expect(strays).toEqual([]);
    }
    expect(flagged).toBeGreaterThan(10);
    expect(single / flagged).toBeGreaterThanOrEqual(0.9);
  });

  it("the plain sweep of an elbow has flaps within: the check sees them", () => {
    const shape = bent(elbow(90, 50), 10);
    const isWithin = slices(shape);
    expect(shiftedMiddles(sweepTube(shape), 0.15).some((p) => isWithin(p, 0.25))).toBe(true);
  });

  it("is the same, byte for byte, each time", () => {
    const shape = wanderer(new Random(7).named(3));
    expect(overlapPieces(shape)).toEqual(overlapPieces(shape));
  });
});

describe("gentle tubes", () => {
  it("are not taken to overlap themselves, however they run, seeded", () => {
    for (let i = 0; i < 200; i++) {
      const random = new Random(11).named(i);
      const radius = random.between(3, 9);
      const [rise, round] = [random.between(2.4, 4), random.between(2.2, 6)];
      // A helix that bends to no less than 2.2 radii, its turns 2.4 radii apart, with a little unrest.
      const points = Array.from({ length: 28 }, (_, k): Vec3 => {
        const t = k * 0.6;
        const out = radius * (round + random.between(-0.05, 0.05));
        return [out * Math.cos(t), out * Math.sin(t), (radius * rise * t) / (2 * Math.PI)];
      });
      expect(findSelfOverlap(bent(points, radius))).toEqual([]);
    }
  });
});
