import type { TriangleMesh } from "../../../src/geometry/mesh";

/**
 * Volume of one closed mesh less another, mm³, by lines along Z on a grid: where each line is inside the first and outside
 * the second. Shares no code with the solid kernel. The lines stand off the round numbers that edges like to lie on.
 * @param spacing of the lines, mm
 */
export function volumeLess(a: TriangleMesh, b: TriangleMesh, spacing: number): number {
  const [inA, inB] = [crossings(a, spacing), crossings(b, spacing)];
  let length = 0;
  for (const [key, spans] of inA) length += lengthLess(spans, inB.get(key) ?? []);
  return length * spacing * spacing;
}

/** Heights at which each line meets the surface, sorted: inside from the first to the second, and so on. */
function crossings({ positions, triangles }: TriangleMesh, spacing: number): Map<string, number[]> {
  const found = new Map<string, number[]>();
  const shift = 0.3719 * spacing;
  for (let i = 0; i < triangles.length; i += 3) {
    const [a, b, c] = [0, 1, 2].map((k) => {
      const at = 3 * triangles[i + k];
      return [positions[at], positions[at + 1], positions[at + 2]];
    });
    const area = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
    if (area === 0) continue;
    const range = (axis: number) => [
      Math.ceil((Math.min(a[axis], b[axis], c[axis]) - shift) / spacing),
      Math.floor((Math.max(a[axis], b[axis], c[axis]) - shift) / spacing),
    ];
    const [fromX, toX] = range(0);
    const [fromY, toY] = range(1);
    for (let column = fromX; column <= toX; column++) {
      for (let row = fromY; row <= toY; row++) {
        const [x, y] = [column * spacing + shift, row * spacing + shift];
        const u = ((b[0] - x) * (c[1] - y) - (b[1] - y) * (c[0] - x)) / area;
        const v = ((c[0] - x) * (a[1] - y) - (c[1] - y) * (a[0] - x)) / area;
        const w = 1 - u - v;
        if (u < 0 || v < 0 || w < 0) continue;
        const key = `${column},${row}`;
        const line = found.get(key) ?? [];
        line.push(u * a[2] + v * b[2] + w * c[2]);
        found.set(key, line);
      }
    }
  }
  for (const line of found.values()) line.sort((p, q) => p - q);
  return found;
}

function lengthLess(a: readonly number[], b: readonly number[]): number {
  let length = 0;
  for (let i = 0; i + 1 < a.length; i += 2) {
    length += a[i + 1] - a[i];
    for (let j = 0; j + 1 < b.length; j += 2) {
      length -= Math.max(0, Math.min(a[i + 1], b[j + 1]) - Math.max(a[i], b[j]));
    }
  }
  return length;
}
