import { join, rootOf } from "../../geometry/disjointSets";
import type { PartMesh } from "../../geometry/mesh";
import type { Vec2, Vec3 } from "../../geometry/vector";
import { inAxes, partOfCutFace, type Section, type SectionFace } from "./planeSection";

/** Triangles of a face with holes, as indices of its points in the order of its loops, counter-clockwise. */
export type Triangulate = (loops: readonly (readonly Vec2[])[]) => ArrayLike<number>;

/**
 * Cuts a mesh open along some faces of a section and closes both sides there; everything else in the plane stays whole.
 * @param faces of the section, each with the number that its triangles get on both sides (see `partOfCutFace`)
 * @returns the bodies that come apart, each closed, the largest first
 */
export function splitAtFaces(
  mesh: PartMesh,
  section: Section,
  faces: readonly { readonly face: SectionFace; readonly number: number }[],
  triangulate: Triangulate,
): PartMesh[] {
  const count = mesh.positions.length / 3;
  const points: number[] = [];
  const corners: number[] = [];
  const parts: number[] = [];
  const isCut = new Set<number>();
  const lowerOf = new Map<number, number>();
  const push = (a: number, b: number, c: number, part: number) => {
    corners.push(a, b, c);
    parts.push(part);
  };

  for (const { face, number } of faces) {
    const lower: number[] = [];
    for (const loop of face.loops) {
      for (const [i, point] of loop.points.entries()) {
        const at = inAxes(section.axes, point);
        const vertex = count + points.length / 3;
        points.push(...at, ...at);
        // The copy below the plane, and after it the one above.
        lowerOf.set(loop.below[i] * count + loop.above[i], vertex);
        lower.push(vertex);
      }
      for (const t of loop.triangles) isCut.add(t);
    }
    const flat = triangulate(face.loops.map((loop) => loop.points));
    for (let i = 0; i < flat.length; i += 3) {
      const [a, b, c] = [lower[flat[i]], lower[flat[i + 1]], lower[flat[i + 2]]];
      push(a, b, c, partOfCutFace(number));
      push(a + 1, c + 1, b + 1, partOfCutFace(number));
    }
  }

  const isAbove = aboveOf(mesh, section);
  for (const t of isCut) {
    const v = [0, 1, 2].map((k) => mesh.triangles[3 * t + k]);
    const up = v.map(isAbove);
    // The corner that is alone on its side.
    const k = up[0] === up[1] ? 2 : up[0] === up[2] ? 1 : 0;
    const [s, p, q] = [v[k], v[(k + 1) % 3], v[(k + 2) % 3]];
    const on = (a: number, b: number) => lowerOf.get(up[k] ? b * count + a : a * count + b)!;
    const [sp, sq] = [on(s, p), on(s, q)];
    const [own, other] = up[k] ? [1, 0] : [0, 1];
    const part = mesh.partOfTriangle[t];
    push(s, sp + own, sq + own, part);
    push(sp + other, p, q, part);
    push(sp + other, q, sq + other, part);
  }

  const kept = mesh.partOfTriangle.length - isCut.size;
  const positions = new Float32Array(mesh.positions.length + points.length);
  positions.set(mesh.positions);
  positions.set(points, mesh.positions.length);
  const triangles = new Uint32Array(3 * kept + corners.length);
  const partOfTriangle = new Int32Array(kept + parts.length);
  let n = 0;
  for (let t = 0; t < mesh.partOfTriangle.length; t++) {
    if (isCut.has(t)) continue;
    for (let k = 0; k < 3; k++) triangles[3 * n + k] = mesh.triangles[3 * t + k];
    partOfTriangle[n++] = mesh.partOfTriangle[t];
  }
  triangles.set(corners, 3 * kept);
  partOfTriangle.set(parts, kept);
  return bodiesOf({ positions, triangles, partOfTriangle });
}

/** Whether a vertex lies above the section's plane. */
function aboveOf({ positions }: PartMesh, { plane: { normal, offset } }: Section) {
  const [nx, ny, nz] = normal;
  return (v: number) =>
    nx * positions[3 * v] + ny * positions[3 * v + 1] + nz * positions[3 * v + 2] - offset > 0;
}

/** Outlines with less room than this are no bodies, mm³. */
const nothing = 1e-9;

/** The bodies of a closed mesh, each with the hollows in it, the largest first. */
export function bodiesOf(mesh: PartMesh): PartMesh[] {
  const { positions, triangles } = mesh;
  const parent = new Int32Array(positions.length / 3);
  for (let i = 0; i < parent.length; i++) parent[i] = i;
  for (let i = 0; i < triangles.length; i += 3) {
    join(parent, triangles[i], triangles[i + 1]);
    join(parent, triangles[i], triangles[i + 2]);
  }
  const shells = new Map<number, { volume: number; triangles: number[] }>();
  for (let t = 0; t < triangles.length / 3; t++) {
    const root = rootOf(parent, triangles[3 * t]);
    let shell = shells.get(root);
    if (!shell) {
      shell = { volume: 0, triangles: [] };
      shells.set(root, shell);
    }
    shell.triangles.push(t);
    shell.volume += tetrahedron(positions, triangles, 3 * t);
  }
  const all = [...shells.values()];
  const bodies = all.filter(({ volume }) => volume > nothing).sort((a, b) => b.volume - a.volume);
  for (const hollow of all) {
    if (hollow.volume > nothing || bodies.length === 0) continue;
    const at = 3 * triangles[3 * hollow.triangles[0]];
    const point: Vec3 = [positions[at], positions[at + 1], positions[at + 2]];
    const around =
      bodies.length === 1
        ? bodies[0]
        : (bodies.filter((body) => isInside(mesh, body.triangles, point)).pop() ?? bodies[0]);
    around.triangles.push(...hollow.triangles);
  }
  return bodies.map((body) => partOf(mesh, body.triangles));
}

/** Whether a point lies within closed shells: by the number of times that a ray upwards leaves them. */
function isInside({ positions, triangles }: PartMesh, own: readonly number[], [x, y, z]: Vec3): boolean {
  let crossings = 0;
  for (const t of own) {
    const [a, b, c] = [3 * triangles[3 * t], 3 * triangles[3 * t + 1], 3 * triangles[3 * t + 2]];
    const [ax, ay] = [positions[a] - x, positions[a + 1] - y];
    const [bx, by] = [positions[b] - x, positions[b + 1] - y];
    const [cx, cy] = [positions[c] - x, positions[c + 1] - y];
    const wa = bx * cy - cx * by;
    const wb = cx * ay - ax * cy;
    const wc = ax * by - bx * ay;
    if (!((wa >= 0 && wb >= 0 && wc >= 0) || (wa <= 0 && wb <= 0 && wc <= 0))) continue;
    const sum = wa + wb + wc;
    if (sum === 0) continue;
    if ((wa * positions[a + 2] + wb * positions[b + 2] + wc * positions[c + 2]) / sum > z) crossings++;
  }
  return crossings % 2 === 1;
}

function tetrahedron(p: Float32Array, triangles: Uint32Array, at: number): number {
  const [a, b, c] = [3 * triangles[at], 3 * triangles[at + 1], 3 * triangles[at + 2]];
  return (
    (p[a] * (p[b + 1] * p[c + 2] - p[b + 2] * p[c + 1]) +
      p[a + 1] * (p[b + 2] * p[c] - p[b] * p[c + 2]) +
      p[a + 2] * (p[b] * p[c + 1] - p[b + 1] * p[c])) /
    6
  );
}

/** Some triangles of a mesh, with only the vertices that they use. */
function partOf(mesh: PartMesh, own: readonly number[]): PartMesh {
  const newIndex = new Int32Array(mesh.positions.length / 3).fill(-1);
  const positions = new Float32Array(9 * own.length);
  const triangles = new Uint32Array(3 * own.length);
  const partOfTriangle = new Int32Array(own.length);
  let vertices = 0;
  for (const [i, t] of own.entries()) {
    partOfTriangle[i] = mesh.partOfTriangle[t];
    for (let k = 0; k < 3; k++) {
      const vertex = mesh.triangles[3 * t + k];
      if (newIndex[vertex] < 0) {
        newIndex[vertex] = vertices;
        for (let axis = 0; axis < 3; axis++)
          positions[3 * vertices + axis] = mesh.positions[3 * vertex + axis];
        vertices++;
      }
      triangles[3 * i + k] = newIndex[vertex];
    }
  }
  return { positions: positions.slice(0, 3 * vertices), triangles, partOfTriangle };
}
