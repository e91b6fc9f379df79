import type { Manifold } from "manifold-3d";
import type { TriangleMesh } from "../mesh";
import { otherTriangles, triangleKeys } from "../sameTriangles";
import { solidOfMesh } from "./body";
import { componentsOf } from "./components";
import { positionsOf } from "./finish";
import { type Kernel, Scope } from "./kernel";

/** What one solid has and another has not. */
export interface SolidDifference {
  /** mm³ */
  readonly volume: number;
  /** Closed; empty where there is nothing. */
  readonly mesh: TriangleMesh;
}

/** Two solids against each other. */
export interface SolidDifferences {
  readonly added: SolidDifference;
  readonly removed: SolidDifference;
}

/** A shell of the difference that is smaller is rounding where both have nearly the same surface, mm³. */
export const leastShell = 0.01;

/** Room about what differs, mm. */
const margin = 1;

/**
 * What a solid has more and has less than an older one: the differences both ways.
 * @throws BodyError for a mesh that is not closed
 */
export function solidDifferences(kernel: Kernel, old: TriangleMesh, now: TriangleMesh): SolidDifferences {
  const box = boxOfDifference(old, now);
  if (!box) return { added: nothing(), removed: nothing() };
  const scope = new Scope();
  try {
    const whole = (mesh: TriangleMesh, name: string) => scope.hold(solidOfMesh(kernel, mesh, name));
    const [before, after] = [whole(old, "the piece as it was"), whole(now, "the piece as it is")];
    // Where both are alike all their surfaces coincide, which is what costs a kernel most: only the rest is compared.
    const within = scope.hold(
      scope.hold(kernel.Manifold.cube(box.size as [number, number, number])).translate(box.least),
    );
    const part = (solid: Manifold) => scope.hold(solid.intersect(within));
    const [was, is] = [part(before), part(after)];
    const less = (a: Manifold, b: Manifold) => withoutSpecks(scope.hold(a.subtract(b)));
    return { added: less(is, was), removed: less(was, is) };
  } finally {
    scope.dispose();
  }
}

/** The box of all triangles that only one of two meshes has, with some room; undefined where there is none. */
function boxOfDifference(
  old: TriangleMesh,
  now: TriangleMesh,
): { least: [number, number, number]; size: number[] } | undefined {
  const least: [number, number, number] = [Infinity, Infinity, Infinity];
  const most = [-Infinity, -Infinity, -Infinity];
  const enclose = ({ positions, triangles }: TriangleMesh, others: readonly number[]) => {
    for (const t of others) {
      for (let corner = 0; corner < 3; corner++) {
        const at = 3 * triangles[3 * t + corner];
        for (let axis = 0; axis < 3; axis++) {
          least[axis] = Math.min(least[axis], positions[at + axis] - margin);
          most[axis] = Math.max(most[axis], positions[at + axis] + margin);
        }
      }
    }
  };
  enclose(now, otherTriangles(now, triangleKeys(old)));
  enclose(old, otherTriangles(old, triangleKeys(now)));
  return most[0] < least[0] ? undefined : { least, size: most.map((value, axis) => value - least[axis]) };
}

function withoutSpecks(solid: Manifold): SolidDifference {
  if (solid.isEmpty()) return nothing();
  const found = solid.getMesh();
  const mesh = { positions: Float32Array.from(positionsOf(found)), triangles: found.triVerts };
  const { ofTriangle, volumes } = componentsOf(mesh);
  const isKept = Array.from(volumes, (volume) => Math.abs(volume) >= leastShell);
  return {
    volume: volumes.reduce((sum, volume, shell) => (isKept[shell] ? sum + volume : sum), 0),
    mesh: ofTriangles(mesh, (t) => isKept[ofTriangle[t]]),
  };
}

/** Some triangles of a mesh, with no other vertices than theirs. */
function ofTriangles({ positions, triangles }: TriangleMesh, isKept: (t: number) => boolean): TriangleMesh {
  const vertexOf = new Int32Array(positions.length / 3).fill(-1);
  const kept: number[] = [];
  const corners: number[] = [];
  for (let i = 0; i < triangles.length; i++) {
    if (!isKept(Math.floor(i / 3))) continue;
    const v = triangles[i];
    if (vertexOf[v] < 0) {
      vertexOf[v] = corners.length / 3;
      corners.push(positions[3 * v], positions[3 * v + 1], positions[3 * v + 2]);
    }
    kept.push(vertexOf[v]);
  }
  return { positions: Float32Array.from(corners), triangles: Uint32Array.from(kept) };
}

const nothing = (): SolidDifference => ({
  volume: 0,
  mesh: { positions: new Float32Array(), triangles: new Uint32Array() },
});
