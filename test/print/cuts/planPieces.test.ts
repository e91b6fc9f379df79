import { beforeAll, describe, expect, test } from "vitest";
import { plateFit } from "../../../src/checks/plateFit";
import type { Part } from "../../../src/design/part";
import { writeStl } from "../../../src/export/stl";
import { auditStl } from "../../../src/export/stlAudit";
import type { PartMesh } from "../../../src/geometry/mesh";
import { tracedSolid } from "../../../src/geometry/solid/cutting";
import { type Kernel, loadKernel, Scope } from "../../../src/geometry/solid/kernel";
import { emptyPlace, TriangleTree } from "../../../src/geometry/triangleTree";
import type { Vec3 } from "../../../src/geometry/vector";
import { grown, keyOutline, socketWall, taper, tipRoom } from "../../../src/print/cuts/keys";
import type { PiecePlan } from "../../../src/print/cuts/piecePlan";
import { planPieces } from "../../../src/print/cuts/planPieces";
import { upOf } from "../../../src/print/placedPiece";
import { signedVolume } from "../../geometry/solid/shapes";
import { antlers, arch, cubePrinter, noBrim, ring, tubePart, united, usual } from "./bodies";

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

type Job = { mesh: PartMesh; plan: PiecePlan; printer: typeof usual | ReturnType<typeof cubePrinter> };

async function planned(parts: readonly Part[], printer: Job["printer"] = usual): Promise<Job> {
  const mesh = await united(kernel, parts);
  return { mesh, printer, plan: planPieces(kernel, { mesh, parts, printer, settings: noBrim }) };
}

/** What every plan must hold, judged anew from the meshes. */
function holds({ mesh, plan, printer }: Job): void {
  for (const piece of plan.pieces) {
    const audit = auditStl(writeStl(piece.mesh, piece.name));
    expect(audit, piece.name).toMatchObject({ closed: true, pieces: 1, insideOut: 0 });
    expect(plateFit(piece.mesh.positions, printer).fits, piece.name).toBe(true);
    expect(piece.fits).toBe(true);
    expect(piece.mesh.partOfTriangle.length).toBe(piece.mesh.triangles.length / 3);
  }
  // Σ pieces = whole + pegs − sockets, each measured by itself.
  const pieces = plan.pieces.reduce((sum, piece) => sum + signedVolume(piece.mesh), 0);
  const whole = signedVolume(mesh);
  const { pegs, sockets } = plan.volumes;
  expect(Math.abs(pieces - (whole + pegs - sockets)) / whole).toBeLessThan(1e-3);
  expect(Math.abs(plan.volumes.pieces - pieces) / whole).toBeLessThan(1e-6);
  liesOnPlates({ mesh, plan, printer });
  isBuilt(plan);
}

/** Every piece on one plate, inside it, and corners of different pieces at least the gap apart, level. */
function liesOnPlates({ plan, printer }: Job): void {
  const seen = plan.plates.flatMap(({ pieces }) => pieces.map(({ piece }) => piece));
  expect([...seen].sort((a, b) => a - b)).toEqual(plan.pieces.map((_, i) => i));
  for (const { pieces } of plan.plates) {
    const clouds = pieces.map(({ piece, rotation, shift, orientation }) => {
      for (const [i, value] of upOf(orientation).entries()) expect(rotation[6 + i]).toBeCloseTo(value, 6);
      const p = plan.pieces[piece].mesh.positions;
      return Array.from({ length: p.length / 3 }, (_, i): Vec3 => {
        const at = (row: number) =>
          rotation[3 * row] * p[3 * i] +
          rotation[3 * row + 1] * p[3 * i + 1] +
          rotation[3 * row + 2] * p[3 * i + 2] +
          shift[row];
        return [at(0), at(1), at(2)];
      });
    });
    if (printer.plate.shape !== "rectangular") throw new Error("a rectangular plate");
    for (const cloud of clouds) {
      for (const [x, y, z] of cloud) {
        expect(Math.abs(x)).toBeLessThanOrEqual(printer.plate.width / 2 + 1e-3);
        expect(Math.abs(y)).toBeLessThanOrEqual(printer.plate.depth / 2 + 1e-3);
        expect(z).toBeGreaterThanOrEqual(-1e-3);
        expect(z).toBeLessThanOrEqual(printer.height + 1e-3);
      }
    }
    for (const [i, a] of clouds.entries()) {
      for (const b of clouds.slice(0, i)) {
        let least = Infinity;
        for (const p of a) for (const q of b) least = Math.min(least, Math.hypot(p[0] - q[0], p[1] - q[1]));
        expect(least).toBeGreaterThanOrEqual(5 - 1e-3);
      }
    }
  }
}

/** Each step joins one new piece to pieces in place; in the end all are in place. */
function isBuilt({ pieces, joints, assembly }: PiecePlan): void {
  expect(assembly).toHaveLength(pieces.length - 1);
  if (assembly.length === 0) return;
  const fresh = new Set(assembly.map(({ piece }) => piece));
  const placed = new Set(pieces.map((_, i) => i).filter((i) => !fresh.has(i)));
  expect(placed.size).toBe(1);
  for (const step of assembly) {
    expect(placed.has(step.piece)).toBe(false);
    for (const to of step.to) expect(placed.has(to)).toBe(true);
    for (const joint of step.joints) {
      expect(joints[joint].pieces).toContain(step.piece);
      // Pins point the way in which the piece is pushed on.
      if (!step.isFlexed && joints[joint].kind === "pin") {
        const { direction } = joints[joint];
        const along = direction.reduce((sum, x, axis) => sum + x * step.direction[axis], 0);
        expect(Math.abs(along)).toBeGreaterThan(1 - 1e-6);
      }
    }
    placed.add(step.piece);
  }
  expect(placed.size).toBe(pieces.length);
}

describe("pieces of what is too large for the plate", () => {
  test("what fits stays whole", async () => {
    const { mesh, plan } = await planned([
      tubePart(
        "rod",
        [
          [0, 0, 0],
          [0, 0, 200],
        ],
        6,
      ),
    ]);
    expect(plan.pieces).toHaveLength(1);
    expect(plan.joints).toEqual([]);
    expect(plan.findings).toEqual([]);
    expect(signedVolume(plan.pieces[0].mesh)).toBeCloseTo(signedVolume(mesh), 6);
    isBuilt(plan);
  });

  test("a ring 300 mm across: two pieces, two pins that cannot be changed", async () => {
    const job = await planned(ring);
    expect(plateFit(job.mesh.positions, usual).fits).toBe(false);
    expect(job.plan.pieces).toHaveLength(2);
    expect(job.plan.joints.map(({ kind, isUnique }) => [kind, isUnique])).toEqual([
      ["pin", true],
      ["pin", true],
    ]);
    holds(job);
    expect(job.plan.findings.map(({ id, topic }) => [id, topic])).toEqual([["cut-into-pieces", "pieces"]]);
    // Cuts square to the tube have 2 π r² = 402 mm²; what is cut is no more than half as much again.
    const area = job.plan.joints.reduce((sum, joint) => sum + joint.area, 0);
    expect(area).toBeGreaterThan(2 * Math.PI * 64 * 0.98);
    expect(area).toBeLessThan(2 * Math.PI * 64 * 1.5);
  });

  test("antlers 400 mm wide: cut through one beam, not through the middle", async () => {
    const job = await planned(antlers);
    holds(job);
    expect(job.plan.pieces).toHaveLength(2);
    // The plane between both sides cuts the band twice, 2 π 9² = 509 mm².
    const area = job.plan.joints.reduce((sum, joint) => sum + joint.area, 0);
    expect(area).toBeLessThan(2 * Math.PI * 81);
    for (const joint of job.plan.joints) expect(joint.parts).toHaveLength(1);
  });

  test("an arch 320 mm wide on a smaller printer", async () => {
    const job = await planned(arch, cubePrinter(180));
    expect(job.plan.pieces.length).toBeGreaterThan(1);
    expect(job.plan.pieces.length).toBeLessThanOrEqual(3);
    holds(job);
  });

  test("tubes at random on a printer of 120 mm", async () => {
    const seed = 20261126;
    console.info(`seed ${seed}`);
    let state = seed;
    const random = () => {
      state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
      return state / 2 ** 32;
    };
    const parts = Array.from({ length: 5 }, (_, i) =>
      tubePart(
        `tube ${i}`,
        [
          [0, 0, 0],
          ...[0.5, 1].map((share): Vec3 => {
            const angle = (i + 0.3 * random()) * ((2 * Math.PI) / 5);
            const out = share * (90 + 30 * random());
            return [out * Math.cos(angle), out * Math.sin(angle), share * 60 * random()];
          }),
        ],
        5 + 2 * random(),
      ),
    );
    const job = await planned(parts, cubePrinter(120));
    expect(job.plan.pieces.length).toBeGreaterThan(2);
    holds(job);
  });

  test("what cannot be made to fit is told", () => {
    // Pins reach farther than such a printer, however small the pieces of a ball 12 mm across.
    const ball = kernel.Manifold.sphere(6, 12);
    const { vertProperties, triVerts } = ball.getMesh();
    ball.delete();
    const mesh = {
      positions: vertProperties,
      triangles: triVerts,
      partOfTriangle: new Int32Array(triVerts.length / 3),
    };
    const plan = planPieces(kernel, { mesh, parts: [], printer: cubePrinter(3), settings: noBrim });
    expect(plan.findings.some(({ id }) => id === "piece-does-not-fit")).toBe(true);
  });

  test("bad input is refused in words", async () => {
    const mesh = await united(kernel, arch);
    const job = { mesh, parts: arch, printer: usual, settings: noBrim };
    expect(() => planPieces(kernel, job, { clearance: -1 })).toThrow(/clearance of pins is -1 mm/);
    expect(() => planPieces(kernel, job, { gap: Number.NaN })).toThrow(RangeError);
    const empty = { ...mesh, triangles: new Uint32Array(0), partOfTriangle: new Int32Array(0) };
    expect(() => planPieces(kernel, { ...job, mesh: empty })).toThrow(/no triangles/);
    const broken = { ...mesh, positions: mesh.positions.map((x, i) => (i === 7 ? Number.NaN : x)) };
    expect(() => planPieces(kernel, { ...job, mesh: broken })).toThrow(/NaN/);
  });
});

describe("pins", () => {
  test("put together, pieces touch nowhere but at the faces, and pins have the stated clearance", async () => {
    const { plan } = await planned(ring);
    const scope = new Scope();
    try {
      const solids = plan.pieces.map(({ mesh }) => scope.hold(tracedSolid(kernel, mesh).solid));
      expect(scope.hold(solids[0].intersect(solids[1])).volume()).toBeLessThan(0.5);
      for (const { key, pieces, at, direction, clearance } of plan.joints) {
        const socket = solids[pieces[1]];
        // From the axis of the pin half way up, rays across: to the wall of the socket, and to that of the peg.
        const peg = solids[pieces[0]];
        const height = key!.length / 2;
        const middle = at.map((x, axis) => x + height * direction[axis]) as [number, number, number];
        const across: Vec3 = Math.abs(direction[2]) < 0.9 ? [-direction[1], direction[0], 0] : [1, 0, 0];
        const l = Math.hypot(...across);
        const far = middle.map((x, axis) => x + (30 * across[axis]) / l) as [number, number, number];
        const first = (solid: typeof socket) => solid.rayCast(middle, far)[0].distance;
        const rays = [first(socket), first(peg)].map((share) => share * (share <= 1 ? 30 : 1));
        // Across a slanting wall the room is more by its slant: at a D's corner by up to a quarter.
        const room = rays[0] - rays[1];
        expect(room).toBeGreaterThan(clearance * 0.99);
        expect(room).toBeLessThan(clearance * 1.5);
      }
    } finally {
      scope.dispose();
    }
  });

  test("a socket keeps a wall of two lines, 0.9 mm, to the surface of the whole, all along", async () => {
    for (const job of [await planned(ring), await planned(antlers), await planned(arch, cubePrinter(180))]) {
      const tree = new TriangleTree(job.mesh);
      for (const { key, at, direction, clearance } of job.plan.joints) {
        if (!key) continue;
        for (let height = 0; height <= key.length + tipRoom; height += 0.25) {
          const [x, y, z] = at.map((value, axis) => value + height * direction[axis]);
          const { distance } = tree.nearest(x, y, z, emptyPlace());
          // The wall is measured square to the pin; the nearest place of a slanting surface lies a little nearer.
          expect(distance).toBeGreaterThan(key.a + clearance + 0.9 * socketWall);
        }
      }
    }
  });

  test("a peg in a socket that is not its own, or turned, runs into it", async () => {
    const { plan } = await planned(ring);
    const [one, other] = plan.joints.map(({ key }) => key!);
    const scope = new Scope();
    try {
      const body = (key: typeof one, room: number, over: number) =>
        scope.hold(
          kernel.Manifold.hull(
            [0, over].flatMap((z) =>
              keyOutline(key, z, room).map(([x, y]): [number, number, number] => [x, y, z]),
            ),
          ),
        );
      const overlap = (peg: typeof one, socket: typeof one, degrees: number, move: [number, number]) => {
        const turned = scope.hold(body(peg, 0, peg.length).rotate([0, 0, degrees]));
        const moved = scope.hold(turned.translate([...move, 0]));
        const hole = body(socket, 0.2, socket.length + tipRoom);
        return moved.volume() - scope.hold(moved.intersect(hole)).volume();
      };
      expect(overlap(one, one, 0, [0, 0])).toBeLessThan(1e-3);
      expect(overlap(one, one, 180, [0, 0])).toBeGreaterThan(1);
      expect(overlap(one, one, 30, [0, 0])).toBeGreaterThan(0.05);
      for (let degrees = 0; degrees < 360; degrees += 15) {
        for (const move of [
          [0, 0],
          [0.3, 0],
          [-0.3, 0.2],
        ] as [number, number][]) {
          expect(overlap(one, other, degrees, move)).toBeGreaterThan(0.05);
          expect(overlap(other, one, degrees, move)).toBeGreaterThan(0.05);
        }
      }
    } finally {
      scope.dispose();
    }
  });

  test("a peg holds what the formula of a frustum says", async () => {
    // V = h/3 (A₀ + A₁ + √(A₀ A₁)) for a frustum whose ends are alike (Heron; MathWorld "Frustum" [from memory]).
    const { plan } = await planned(arch, cubePrinter(180));
    for (const { key, pegVolume, socketVolume, clearance, kind } of plan.joints) {
      if (kind !== "pin") continue;
      const area = (points: readonly (readonly [number, number])[]) =>
        points.reduce((sum, [x, y], i) => {
          const [u, v] = points[(i + 1) % points.length];
          return sum + (x * v - u * y) / 2;
        }, 0);
      const base = area(keyOutline(key!, 0));
      const end = base * (1 - (taper * key!.length) / key!.b) ** 2;
      const frustum = (key!.length / 3) * (base + end + Math.sqrt(base * end));
      expect(pegVolume).toBeGreaterThan(0.97 * frustum);
      expect(pegVolume).toBeLessThan(1.03 * frustum);
      expect(socketVolume).toBeGreaterThan(pegVolume);
      expect(area(grown(keyOutline(key!, 0), clearance))).toBeGreaterThan(base);
    }
  });
});
