import type { MeshBuffers } from "../../../src/preview/protocol";

/** A mesh as plain arrays. */
export interface Mesh {
  readonly positions: Float32Array;
  readonly triangles: Uint32Array;
}

/** A cube about a middle, edges of a given length, mm. */
export function cube(edge: number, [x, y, z] = [0, 0, 0]): Mesh {
  const h = edge / 2;
  const positions = new Float32Array(24);
  for (let i = 0; i < 8; i++) {
    positions.set([x + (i & 1 ? h : -h), y + (i & 2 ? h : -h), z + (i & 4 ? h : -h)], 3 * i);
  }
  const triangles = new Uint32Array(
    [
      [0, 2, 3, 1],
      [4, 5, 7, 6],
      [0, 1, 5, 4],
      [2, 6, 7, 3],
      [0, 4, 6, 2],
      [1, 3, 7, 5],
    ].flatMap(([a, b, c, d]) => [a, b, c, a, c, d]),
  );
  return { positions, triangles };
}

/** A ball by meridians and parallels; poles are single vertices. */
export function ball(radius: number, columns = 48, rows = 24): Mesh {
  const points: number[] = [0, 0, -radius];
  for (let row = 1; row < rows; row++) {
    const polar = (Math.PI * row) / rows;
    for (let column = 0; column < columns; column++) {
      const turn = (2 * Math.PI * column) / columns;
      points.push(
        radius * Math.sin(polar) * Math.cos(turn),
        radius * Math.sin(polar) * Math.sin(turn),
        -radius * Math.cos(polar),
      );
    }
  }
  points.push(0, 0, radius);
  const at = (row: number, column: number) => 1 + (row - 1) * columns + (column % columns);
  const last = points.length / 3 - 1;
  const triangles: number[] = [];
  for (let column = 0; column < columns; column++) {
    triangles.push(0, at(1, column + 1), at(1, column));
    for (let row = 1; row < rows - 1; row++) {
      const [a, b, c, d] = [
        at(row, column),
        at(row, column + 1),
        at(row + 1, column + 1),
        at(row + 1, column),
      ];
      triangles.push(a, b, c, a, c, d);
    }
    triangles.push(at(rows - 1, column), at(rows - 1, column + 1), last);
  }
  return { positions: new Float32Array(points), triangles: new Uint32Array(triangles) };
}

/** A mesh as it travels. */
export const buffersOf = ({ positions, triangles }: Mesh): MeshBuffers => ({
  positions: positions.slice().buffer,
  triangles: triangles.slice().buffer,
});
