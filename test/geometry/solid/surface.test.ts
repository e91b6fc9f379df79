import { createRequire } from "node:module";
import { expect, test } from "vitest";
import { meshVolume } from "../../../src/geometry/measure";
import { loadKernel } from "../../../src/geometry/solid/kernel";
import { surfaceOfPieces } from "../../../src/geometry/solid/surface";

const kernel = await loadKernel(createRequire(import.meta.url).resolve("manifold-3d/manifold.wasm"));

/** The corners of a cube of 10 mm, shifted along x. */
const corners = (x: number) =>
  Float32Array.from([0, 1, 2, 3, 4, 5, 6, 7].flatMap((i) => [x + 10 * (i & 1), 5 * (i & 2), 2.5 * (i & 4)]));

test("pieces side by side, hulls among them, as one closed mesh of their volumes together", () => {
  const one = surfaceOfPieces(kernel, [{ kind: "hull", points: corners(0) }]);
  expect(meshVolume(one)).toBeCloseTo(1000, 3);
  const both = surfaceOfPieces(kernel, [
    { kind: "mesh", mesh: one },
    { kind: "hull", points: corners(20) },
  ]);
  expect(both.positions).toHaveLength(2 * one.positions.length);
  expect(meshVolume(both)).toBeCloseTo(2000, 3);
});
