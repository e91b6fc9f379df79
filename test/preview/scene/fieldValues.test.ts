import { describe, expect, test } from "vitest";
import { packMesh, unpackMesh } from "../../../src/geometry/packedMesh";
import { noValue } from "../../../src/preview/fieldScale";
import type { FieldMessage, SolidMessage } from "../../../src/preview/protocol";
import { drawnValues, valueAt } from "../../../src/preview/scene/fieldValues";
import { Materials } from "../../../src/preview/scene/materials";
import { Piece } from "../../../src/preview/scene/piece";
import { shadedMesh } from "../../../src/preview/scene/shadedMesh";
import { ball, cube } from "./shapes";

const solid = (version: number): SolidMessage => ({
  kind: "solid",
  version,
  packed: packMesh({ ...cube(30), partOfTriangle: new Int32Array(12) }),
});
const field = (version: number, values: readonly number[] = [1, 2, 3, 4, 5, 6, 7, 8]): FieldMessage => ({
  kind: "field",
  version,
  title: "Gap to the head",
  unit: "mm",
  values: Int16Array.from(values).buffer,
});

test("packing keeps the order of the vertices, so that values by index stay where they belong", () => {
  const mesh = { ...ball(80), partOfTriangle: new Int32Array(ball(80).triangles.length / 3) };
  const { positions, triangles } = unpackMesh(packMesh(mesh));
  expect(triangles).toEqual(mesh.triangles);
  for (let i = 0; i < positions.length; i++) expect(positions[i]).toBeCloseTo(mesh.positions[i], 1);
});

test("every drawn vertex has the value of the vertex where it stands", () => {
  const { positions, triangles } = cube(20);
  // A cube's corners are drawn once for each face.
  const drawn = shadedMesh(positions, triangles);
  expect(drawn.positions.length).toBe(3 * 24);
  const values = Int16Array.of(10, 20, 30, 40, 50, 60, 70, noValue);
  const pairs = drawnValues(values, triangles, drawn.triangles, drawn.positions.length / 3);
  for (let i = 0; i < 24; i++) {
    const at = [...drawn.positions.subarray(3 * i, 3 * i + 3)];
    const vertex = [0, 1, 2, 3, 4, 5, 6, 7].find((v) => at.every((x, axis) => x === positions[3 * v + axis]));
    const value = values[vertex as number];
    expect([...pairs.subarray(2 * i, 2 * i + 2)]).toEqual(value === noValue ? [0, 0] : [value, 1]);
  }
});

describe("the value at a point of a triangle", () => {
  const positions = Float32Array.of(0, 0, 0, 10, 0, 0, 0, 10, 0);
  const triangles = Uint32Array.of(0, 1, 2);
  const at = (values: readonly number[], x: number, y: number) =>
    valueAt(Int16Array.from(values), positions, triangles, 0, [x, y, 0]);

  test("is that of a corner, of a side's middle, and of the middle the mean", () => {
    expect(at([100, 400, 1000], 10, 0)).toBeCloseTo(4, 9);
    expect(at([100, 400, 1000], 0, 5)).toBeCloseTo(5.5, 9);
    expect(at([100, 400, 1000], 10 / 3, 10 / 3)).toBeCloseTo(5, 6);
  });

  test("is none where a corner has none; a triangle without area has its first corner's", () => {
    expect(at([100, noValue, 1000], 1, 1)).toBeUndefined();
    expect(valueAt(Int16Array.of(120, 0, 0), new Float32Array(9), triangles, 0, [0, 0, 0])).toBe(1.2);
  });
});

describe("the colours of a solid", () => {
  const made = () => {
    const piece = new Piece(new Materials());
    piece.isFieldShown = true;
    return piece;
  };

  test("come with the values of its own version, in whichever order both come", () => {
    const first = made();
    first.takeSolid(solid(3));
    expect(first.hasField).toBe(false);
    expect(first.takeField(field(3))).toBe(true);
    expect(first.shownValues?.[7]).toBe(8);
    const second = made();
    expect(second.takeField(field(3))).toBe(false);
    second.takeSolid(solid(3));
    expect(second.hasField).toBe(true);
  });

  test("go with a new solid, and come back with its own values; older ones are dropped", () => {
    const piece = made();
    piece.takeSolid(solid(3));
    piece.takeField(field(3));
    piece.takeSolid(solid(4));
    expect(piece.shownValues).toBeUndefined();
    expect(piece.takeField(field(3))).toBe(false);
    expect(piece.shownValues).toBeUndefined();
    expect(piece.takeField(field(4))).toBe(true);
  });

  test("are not of a draft", () => {
    const piece = made();
    piece.takeSolid(solid(3));
    piece.takeField(field(3));
    piece.takeDraft({ kind: "draft", version: 4, parts: [] });
    expect(piece.hasField).toBe(false);
  });

  test("of another length than the solid are none", () => {
    const piece = made();
    piece.takeSolid(solid(3));
    for (const values of [[], [1, 2, 3, 4, 5, 6, 7], [1, 2, 3, 4, 5, 6, 7, 8, 9]]) {
      expect(piece.takeField(field(3, values))).toBe(false);
      expect(piece.hasField).toBe(false);
    }
  });

  test("cost nothing until they are wanted", () => {
    const piece = new Piece(new Materials());
    piece.takeSolid(solid(3));
    piece.takeField(field(3));
    const [{ surface }] = piece.shown();
    expect(surface.geometry.hasAttribute("value")).toBe(false);
    piece.isFieldShown = true;
    expect(surface.geometry.getAttribute("value").count).toBe(24);
  });
});
