import type { Loop } from "./slices";

/** Area that a loop encloses, mm²: positive if it runs counter-clockwise (shoelace formula). */
export function loopArea(loop: Loop): number {
  let sum = 0;
  // Relative to a point of the loop, so that no digits are lost far from the origin.
  const [ox, oy] = [loop[0], loop[1]];
  for (let i = 0, j = loop.length - 2; i < loop.length; j = i, i += 2) {
    sum += (loop[j] - ox) * (loop[i + 1] - oy) - (loop[i] - ox) * (loop[j + 1] - oy);
  }
  return sum / 2;
}

/** Length of a loop, mm. */
export function loopLength(loop: Loop): number {
  let sum = 0;
  for (let i = 0, j = loop.length - 2; i < loop.length; j = i, i += 2) {
    const dx = loop[i] - loop[j];
    const dy = loop[i + 1] - loop[j + 1];
    sum += Math.sqrt(dx * dx + dy * dy);
  }
  return sum;
}

/**
 * A loop of fewer points, none of those left out farther than `tolerance` (mm) from it: from each point kept the sleeve
 * of directions that pass within the tolerance of all points since is narrowed until the next lies outside (Zhao,
 * Saalfeld 1997, "Linear-time sleeve-fitting polyline simplification algorithms", from memory). In time that grows with
 * the points.
 * @returns undefined where fewer than three points are left: the loop is no wider than the tolerance
 */
export function simplifiedLoop(loop: Loop, tolerance: number): Loop | undefined {
  if (kept.length < loop.length + 2) kept = new Float64Array(2 * loop.length + 2);
  let ax = loop[0];
  let ay = loop[1];
  kept[0] = ax;
  kept[1] = ay;
  let length = 2;
  // Unit vectors along the sleeve's right and left side; none yet: any direction will do.
  let rx = 0;
  let ry = 0;
  let lx = 0;
  let ly = 0;
  let isOpen = true;
  let farthest = 0;
  let px = ax;
  let py = ay;
  // The first point once more at the end, so that the closing edge is held to the tolerance too.
  for (let i = 2; i <= loop.length; i += 2) {
    const x = loop[i === loop.length ? 0 : i];
    const y = loop[i === loop.length ? 1 : i + 1];
    let dx = x - ax;
    let dy = y - ay;
    let distance = Math.sqrt(dx * dx + dy * dy);
    // Out of the sleeve, or back along it.
    if (!isOpen && (rx * dy - ry * dx < 0 || lx * dy - ly * dx > 0 || distance < farthest - tolerance / 2)) {
      ax = px;
      ay = py;
      kept[length++] = ax;
      kept[length++] = ay;
      isOpen = true;
      farthest = 0;
      dx = x - ax;
      dy = y - ay;
      distance = Math.sqrt(dx * dx + dy * dy);
    }
    px = x;
    py = y;
    if (distance > farthest) farthest = distance;
    if (distance <= tolerance) continue;
    const sine = tolerance / distance;
    const cosine = Math.sqrt(1 - sine * sine);
    const ux = dx / distance;
    const uy = dy / distance;
    const sx = ux * cosine + uy * sine;
    const sy = uy * cosine - ux * sine;
    const tx = ux * cosine - uy * sine;
    const ty = uy * cosine + ux * sine;
    if (isOpen || rx * sy - ry * sx > 0) {
      rx = sx;
      ry = sy;
    }
    if (isOpen || lx * ty - ly * tx < 0) {
      lx = tx;
      ly = ty;
    }
    isOpen = false;
  }
  return length < 6 ? undefined : kept.slice(0, length);
}

// Kept from call to call: thousands of loops come one after another.
let kept = new Float64Array(1024);
