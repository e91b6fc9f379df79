import type { TriangleMesh } from "../geometry/mesh";
import type { Vec3 } from "../geometry/vector";
import { girthDepth } from "./headRadii";
import { measureLevel } from "./measureMesh";
import type { Measurements } from "./measurements";

/** What a tape and calipers read off a scanned head, mm. */
export interface ScanMeasures {
  /** Perimeter of the convex hull of the level section where it is greatest above the ears. */
  readonly girth: number;
  /** Greatest front-to-back extent of a level section above the ears. */
  readonly length: number;
  /** Greatest side-to-side extent of a level section above the ears. */
  readonly breadth: number;
  /** From the tragions' level (z = 0) to the top of the cranium. */
  readonly crownHeight: number;
  /** Height of the greatest girth over the tragions' level. */
  readonly girthHeight: number;
}

/** What a scan is measured against: a head form, as far as it is asked. */
interface MeasuredHead {
  readonly measurements: Measurements;
  readonly center: Vec3;
}

/** Levels that are looked at, in shares of the depth from crown to girth, below and above the girth of the form. */
const [lowest, highest] = [-0.13, 0.5];
const step = 2;
/** Ears begin no higher over the girth of the form than this share of the depth. */
const earsBelow = 0.12;
/** From one level to the next, 2 mm below, no head grows broader by more than this, mm; ears stand off at once. */
const earStep = 3.5;

/**
 * Measures a mesh in the head frame, which may be open and have shoulders. Unlike for a head form the levels are not
 * counted from its top, which may be missing or hair.
 * @param size the scan against the form it was fitted to, 1 for one of the same size
 */
export function measureScan(mesh: TriangleMesh, form: MeasuredHead, size: number): ScanMeasures {
  const depth = size * girthDepth(form.measurements);
  // A scan's own form may have its centre elsewhere.
  const around = size * (form.measurements.crownHeight - girthDepth(form.measurements));
  const levels: number[] = [];
  for (let z = around + lowest * depth; z <= around + highest * depth; z += step) levels.push(z);
  const slab = levelSlab(mesh, levels[0] - step, levels[levels.length - 1] + step);
  let girth = 0;
  let length = 0;
  let breadth = 0;
  let girthHeight = around;
  const look = (z: number): number | undefined => {
    const section = measureLevel(slab, z);
    if (section === undefined) return undefined;
    length = Math.max(length, section.length);
    breadth = Math.max(breadth, section.breadth);
    if (section.girth > girth) {
      girth = section.girth;
      girthHeight = z;
    }
    return section.breadth;
  };
  let lowestLevel = levels[0];
  let before = Infinity;
  // From above down: where the head grows broader all at once, the ears begin.
  for (let i = levels.length - 1; i >= 0; i--) {
    const section =
      levels[i] < around + earsBelow * depth ? measureLevel(slab, levels[i])?.breadth : undefined;
    if (section !== undefined && section > before + size * earStep) {
      lowestLevel = levels[i + 1];
      break;
    }
    before = look(levels[i]) ?? before;
  }
  for (let fine = step / 2; fine > 0.1; fine /= 2) {
    const middle = girthHeight;
    if (middle - fine >= lowestLevel) look(middle - fine);
    look(middle + fine);
  }
  return { girth, length, breadth, crownHeight: topOf(mesh, form, size), girthHeight };
}

/** The triangles that reach into a range of heights. */
function levelSlab({ positions, triangles }: TriangleMesh, from: number, to: number): TriangleMesh {
  const kept = new Uint32Array(triangles.length);
  let length = 0;
  for (let i = 0; i < triangles.length; i += 3) {
    const a = positions[3 * triangles[i] + 2];
    const b = positions[3 * triangles[i + 1] + 2];
    const c = positions[3 * triangles[i + 2] + 2];
    if (Math.min(a, b, c) > to || Math.max(a, b, c) < from) continue;
    kept[length++] = triangles[i];
    kept[length++] = triangles[i + 1];
    kept[length++] = triangles[i + 2];
  }
  return { positions, triangles: kept.subarray(0, length) };
}

/** Height of the highest vertex over the middle of the head, mm; of any vertex where there is none. */
function topOf({ positions }: TriangleMesh, form: MeasuredHead, size: number): number {
  const reach = size * 0.5 * form.measurements.breadth;
  const middle = size * form.center[1];
  let top = -Infinity;
  let ofAny = -Infinity;
  for (let i = 0; i < positions.length; i += 3) {
    const z = positions[i + 2];
    if (z > ofAny) ofAny = z;
    if (z > top && positions[i] ** 2 + (positions[i + 1] - middle) ** 2 <= reach * reach) top = z;
  }
  return top > 0 ? top : ofAny;
}
