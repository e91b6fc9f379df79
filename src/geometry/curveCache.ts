import { Curve } from "./curve";
import type { PathData } from "./tubeShape";

const known = new WeakMap<PathData, Curve>();

/**
 * The curve of a path, built once for each path object: for paths that are asked often and never change. Throws as
 * `Curve` does.
 */
export function curveOf(path: PathData): Curve {
  const before = known.get(path);
  if (before) return before;
  const curve = new Curve(path);
  known.set(path, curve);
  return curve;
}
