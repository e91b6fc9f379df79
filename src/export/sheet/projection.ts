import type { TriangleMesh } from "../../geometry/mesh";
import { cross, dot, normalize, type Vec3 } from "../../geometry/vector";

/** A parallel projection: which way is right and up on the sheet, and which way the viewer stands. Unit vectors. */
export interface View {
  readonly name: "front" | "side" | "top" | "picture" | "back-picture";
  readonly title: string;
  readonly right: Vec3;
  readonly up: Vec3;
  readonly towards: Vec3;
}

/** Seen from the front: the wearer's left is on the viewer's right. */
export const frontView: View = {
  name: "front",
  title: "front",
  right: [-1, 0, 0],
  up: [0, 0, 1],
  towards: [0, 1, 0],
};

/** Seen from the wearer's right, face to the right: in first-angle projection it stands right of the front view. */
export const sideView: View = {
  name: "side",
  title: "wearer’s right",
  right: [0, 1, 0],
  up: [0, 0, 1],
  towards: [1, 0, 0],
};

/** Seen from above, face downwards: in first-angle projection it stands below the front view. */
export const topView: View = {
  name: "top",
  title: "above",
  right: [-1, 0, 0],
  up: [0, -1, 0],
  towards: [0, 0, 1],
};

/** A picture from an azimuth (0 front, negative on the wearer's left) and a height of the eye, degrees. */
export function pictureView(name: View["name"], title: string, azimuth: number, elevation: number): View {
  const a = (azimuth * Math.PI) / 180;
  const e = (elevation * Math.PI) / 180;
  const towards: Vec3 = [Math.sin(a) * Math.cos(e), Math.cos(a) * Math.cos(e), Math.sin(e)];
  const right = normalize(cross([0, 0, 1], towards));
  return { name, title, right, up: cross(towards, right), towards };
}

/** Least and most of what a mesh covers along the sheet's right and up, mm. */
export interface Extent {
  readonly left: number;
  readonly right: number;
  readonly bottom: number;
  readonly top: number;
}

/** The extent of the vertices that triangles use. */
export function extentOf({ positions, triangles }: TriangleMesh, view: View): Extent {
  let left = Infinity;
  let right = -Infinity;
  let bottom = Infinity;
  let top = -Infinity;
  for (let corner = 0; corner < triangles.length; corner++) {
    const at = 3 * triangles[corner];
    const point: Vec3 = [positions[at], positions[at + 1], positions[at + 2]];
    const u = dot(point, view.right);
    const v = dot(point, view.up);
    left = Math.min(left, u);
    right = Math.max(right, u);
    bottom = Math.min(bottom, v);
    top = Math.max(top, v);
  }
  return { left, right, bottom, top };
}

export const joined = (a: Extent, b: Extent): Extent => ({
  left: Math.min(a.left, b.left),
  right: Math.max(a.right, b.right),
  bottom: Math.min(a.bottom, b.bottom),
  top: Math.max(a.top, b.top),
});
