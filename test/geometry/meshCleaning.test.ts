import { describe, expect, it } from "vitest";
import { Random } from "../../src/design/random";
import { meshArea, meshVolume } from "../../src/geometry/measure";
import type { TriangleMesh } from "../../src/geometry/mesh";
import { cleanMesh } from "../../src/geometry/meshCleaning";
import { SignedDistance } from "../../src/geometry/signedDistance";
import { ellipsoid } from "../checks/shapes";
import { both, moved, partlyTurned, without } from "../head/scanShapes";

const ball = ellipsoid(75, 95, 110, 30, 40);
const asMoved = (mesh: TriangleMesh, size: number, shift: readonly [number, number, number]) =>
  moved(mesh, { rotation: [1, 0, 0, 0, 1, 0, 0, 0, 1], size, shift });
const inside = (mesh: TriangleMesh) => partlyTurned(mesh, new Random(1), 1);

describe("cleaning", () => {
  it("leaves a clean closed mesh as it is", () => {
    const cleaned = cleanMesh(ball);
    expect(cleaned).toMatchObject({
      flat: 0,
      duplicates: 0,
      loosePieces: 0,
      innerPieces: 0,
      turned: 0,
      openEdges: 0,
    });
    expect(cleaned.mesh.triangles.length).toBe(ball.triangles.length);
    expect(meshVolume(cleaned.mesh)).toBeCloseTo(meshVolume(ball), 6);
  });

  it("drops triangles without area and second ones on the same vertices, whichever way they face", () => {
    const [a, b, c] = ball.triangles.subarray(30, 33);
    const dirty = {
      positions: Float32Array.from([...ball.positions, 0, 0, 0, 1, 1, 1, 2, 2, 2]),
      triangles: Uint32Array.from([
        ...ball.triangles,
        ...[a, b, c, b, a, c, c, a, b],
        ...[a, a, b],
        ...[0, 1, 2].map((i) => ball.positions.length / 3 + i),
      ]),
    };
    const cleaned = cleanMesh(dirty);
    expect(cleaned).toMatchObject({ flat: 2, duplicates: 3, turned: 0, openEdges: 0 });
    expect(cleaned.mesh.triangles.length).toBe(ball.triangles.length);
    expect(cleaned.mesh.positions.length).toBe(ball.positions.length);
  });

  it("turns a mesh outward of which any share is turned over: seeds 1 to 5", () => {
    for (const [i, share] of [0.02, 0.3, 0.5, 0.8, 1].entries()) {
      const seed = i + 1;
      const turned = partlyTurned(ball, new Random(seed), share);
      const cleaned = cleanMesh(turned);
      expect(meshVolume(cleaned.mesh), `seed ${seed}`).toBeCloseTo(meshVolume(ball), 6);
      const changed = ball.triangles.filter(
        (vertex, k) => k % 3 === 1 && vertex !== turned.triangles[k],
      ).length;
      expect(cleaned.turned).toBe(changed);
    }
  });

  it("turns open meshes outward: a bowl of any depth", () => {
    for (const level of [-100, -60, 0, 60, 90]) {
      const bowl = without(ball, ([, , z]) => z < level);
      for (const given of [bowl, inside(bowl), partlyTurned(bowl, new Random(7), 0.5)]) {
        const cleaned = cleanMesh(given);
        expect(cleaned.openEdges).toBeGreaterThan(20);
        const distance = new SignedDistance(cleaned.mesh);
        // 3 mm outside and inside the crown of the ellipsoid.
        expect(distance.at(0, 0, 113)).toBeCloseTo(3, 1);
        expect(distance.at(0, 0, 107)).toBeCloseTo(-3, 1);
      }
    }
  });

  it("drops loose pieces below a twentieth of the largest and counts them", () => {
    const crumbs = [0.1, 0.2, 0.21].reduce(
      (mesh, size, i) => both(mesh, asMoved(ball, size, [200 + 60 * i, 0, 0])),
      ball,
    );
    // Areas go with the square of the size: 0.01, 0.04, 0.0441 of the largest are crumbs, 0.0625 is a piece.
    const cleaned = cleanMesh(both(crumbs, asMoved(ball, 0.25, [0, 300, 0])));
    expect(cleaned.loosePieces).toBe(3);
    expect(cleaned.looseShare).toBeCloseTo(0.0941 / 1.1566, 4);
    expect(meshArea(cleaned.mesh)).toBeCloseTo(1.0625 * meshArea(ball), -1);
  });

  it("drops a piece within the largest, not one beside it or over it", () => {
    const within = both(ball, asMoved(ball, 0.8, [3, 2, 1]));
    expect(cleanMesh(within)).toMatchObject({ innerPieces: 1, loosePieces: 0 });
    expect(meshVolume(cleanMesh(within).mesh)).toBeCloseTo(meshVolume(ball), 0);
    expect(cleanMesh(both(ball, asMoved(ball, 0.8, [180, 0, 0])))).toMatchObject({ innerPieces: 0 });
    // A cap of hair that lies on the ball, open below.
    const cap = without(asMoved(ball, 1.02, [0, 0, 0]), ([, , z]) => z < 30);
    expect(cleanMesh(both(ball, cap))).toMatchObject({ innerPieces: 0 });
    // A bowl with something in it: the bowl is nearly closed.
    const open = without(ball, ([, , z]) => z < -95);
    expect(cleanMesh(both(inside(open), asMoved(ball, 0.6, [0, 0, 10])))).toMatchObject({ innerPieces: 1 });
  });

  it("bears what is no surface at all", () => {
    const none = { positions: new Float32Array(0), triangles: new Uint32Array(0) };
    expect(cleanMesh(none).mesh.triangles.length).toBe(0);
    const flat = {
      positions: Float32Array.of(0, 0, 0, 1, 0, 0, 2, 0, 0),
      triangles: Uint32Array.of(0, 1, 2),
    };
    expect(cleanMesh(flat)).toMatchObject({ flat: 1 });
    // A fan of 20,000 triangles on one edge, and as many single ones.
    const count = 20_000;
    const positions = new Float32Array(3 * (count + 2)).map((_, i) => ((i * 7919) % 1000) / 10);
    const fan = Uint32Array.from({ length: 3 * count }, (_, i) => (i % 3 < 2 ? i % 3 : 2 + (i - 2) / 3));
    const before = performance.now();
    cleanMesh({ positions, triangles: fan });
    const soup = new Float32Array(9 * count).map((_, i) => ((i * 104_729) % 100_003) / 1000);
    const cleaned = cleanMesh({
      positions: soup,
      triangles: Uint32Array.from({ length: 3 * count }, (_, i) => i),
    });
    // A generous bound: it tells steps by the square of the triangles.
    expect(performance.now() - before).toBeLessThan(10_000);
    expect(cleaned.mesh.triangles.length).toBeGreaterThan(0);
  });

  it("bears a surface with one side (Möbius's band)", () => {
    const n = 40;
    const positions = new Float32Array(6 * n);
    for (let i = 0; i < n; i++) {
      const turn = (2 * Math.PI * i) / n;
      for (const [k, across] of [-10, 10].entries()) {
        const r = 60 + across * Math.cos(turn / 2);
        positions.set([r * Math.cos(turn), r * Math.sin(turn), across * Math.sin(turn / 2)], 6 * i + 3 * k);
      }
    }
    const triangles: number[] = [];
    for (let i = 0; i < n; i++) {
      const [a, b] = [2 * i, 2 * i + 1];
      const [c, d] = i + 1 < n ? [a + 2, b + 2] : [1, 0];
      triangles.push(a, b, c, c, b, d);
    }
    const cleaned = cleanMesh({ positions, triangles: Uint32Array.from(triangles) });
    expect(cleaned.mesh.triangles.length).toBe(triangles.length);
    expect(cleaned.openEdges).toBe(2 * n);
  });
});
