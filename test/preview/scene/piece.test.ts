import { type BufferGeometry, Mesh } from "three";
import { beforeEach, describe, expect, test } from "vitest";
import { packMesh } from "../../../src/geometry/packedMesh";
import type { DraftMessage, SolidMessage } from "../../../src/preview/protocol";
import { Materials } from "../../../src/preview/scene/materials";
import { Piece } from "../../../src/preview/scene/piece";
import { buffersOf, cube } from "./shapes";

const draft = (version: number, parts: Record<number, [key: string, edge?: number]>): DraftMessage => ({
  kind: "draft",
  version,
  parts: Object.entries(parts).map(([part, [key, edge]]) => ({
    part: Number(part),
    key,
    ...(edge !== undefined && { mesh: buffersOf(cube(edge)) }),
  })),
});
const solid = (version: number, edge = 30): SolidMessage => ({
  kind: "solid",
  version,
  packed: packMesh({ ...cube(edge), partOfTriangle: new Int32Array(12) }),
});

let piece: Piece;
beforeEach(() => {
  piece = new Piece(new Materials());
});
const edges = () => piece.shown().map(({ surface }) => (surface.box?.most[0] ?? 0) * 2);

describe("drafts", () => {
  test("keep shapes by key: only new ones come with a mesh", () => {
    piece.takeDraft(draft(1, { 0: ["a", 10], 1: ["b", 20] }));
    const [kept] = piece.shown();
    piece.takeDraft(draft(2, { 0: ["b"], 1: ["c", 40], 2: ["a"] }));
    expect(edges()).toEqual([20, 40, 10]);
    expect(piece.shown()[2].surface).toBe(kept.surface);
  });

  test("free shapes whose keys are not named", () => {
    piece.takeDraft(draft(1, { 0: ["a", 10], 1: ["b", 20] }));
    const freed: BufferGeometry[] = [];
    for (const { surface } of piece.shown()) {
      surface.geometry.addEventListener("dispose", ({ target }) => freed.push(target));
    }
    const lost = piece.shown()[1].surface.geometry;
    piece.takeDraft(draft(2, { 0: ["a"] }));
    expect(freed).toEqual([lost]);
    expect(() => piece.takeDraft(draft(3, { 0: ["a"], 1: ["b"] }))).toThrow(/parts 1/);
    // What is known is shown all the same.
    expect(edges()).toEqual([10]);
  });

  test("parts of one shape share it", () => {
    piece.takeDraft(draft(1, { 0: ["a", 10], 1: ["a"] }));
    expect(piece.shown()[0].surface).toBe(piece.shown()[1].surface);
  });

  test("cuts are no matter", () => {
    piece.takeDraft(draft(1, { 0: ["a", 10], 1: ["b", 20] }));
    piece.setKinds(["tube", "cut"]);
    expect(edges()).toEqual([10]);
    expect(piece.cuts.children).toHaveLength(1);
    expect(piece.matter.children).toHaveLength(1);
  });
});

describe("drafts and solids", () => {
  test("a solid of the draft's version replaces it; a newer draft replaces the solid, whole and at once", () => {
    expect(piece.takeDraft(draft(1, { 0: ["a", 10], 1: ["b", 20] }))).toBe(true);
    const before = piece.shown().map(({ surface }) => surface);
    expect(piece.takeSolid(solid(1))).toBe(true);
    expect(edges()).toEqual([30]);
    expect(piece.takeDraft(draft(2, { 0: ["a"], 1: ["b"] }))).toBe(true);
    expect(piece.isSolid).toBe(false);
    // The same buffers: nothing was made anew.
    expect(piece.shown().map(({ surface }) => surface)).toEqual(before);
  });

  test("what is older than what is shown is dropped, yet a draft's shapes are kept", () => {
    piece.takeDraft(draft(5, { 0: ["a", 10] }));
    expect(piece.takeSolid(solid(4))).toBe(false);
    expect(piece.isSolid).toBe(false);
    expect(piece.takeSolid(solid(5))).toBe(true);
    expect(piece.takeDraft(draft(5, { 0: ["b", 12] }))).toBe(false);
    expect(piece.isSolid).toBe(true);
    expect(piece.takeDraft(draft(6, { 0: ["b"] }))).toBe(true);
    expect(edges()).toEqual([12]);
  });

  test("hold one solid, however many come", () => {
    let freed = 0;
    for (let version = 1; version <= 20; version++) {
      piece.takeSolid(solid(version));
      piece.shown()[0].surface.geometry.addEventListener("dispose", () => {
        freed += 1;
      });
    }
    expect(freed).toBe(19);
    piece.dispose();
    expect(freed).toBe(20);
  });

  test("bytes that are no solid are refused, and what is shown stays", () => {
    piece.takeSolid(solid(1));
    expect(() => piece.takeSolid({ ...solid(2), packed: new Uint8Array(64) })).toThrow(RangeError);
    expect(edges()).toEqual([30]);
  });
});

test("part meshes are found in the scene with their own part", () => {
  piece.takeDraft(draft(1, { 3: ["a", 10] }));
  expect(piece.matter.children[0]).toBeInstanceOf(Mesh);
  expect(piece.shown()[0].part).toBe(3);
});
