/** Some of many points, by index: x, y, z of each in turn. */
export function pickedPoints(positions: Float32Array, picked: ArrayLike<number>): Float32Array {
  const points = new Float32Array(3 * picked.length);
  for (let k = 0; k < picked.length; k++) {
    const at = 3 * picked[k];
    points[3 * k] = positions[at];
    points[3 * k + 1] = positions[at + 1];
    points[3 * k + 2] = positions[at + 2];
  }
  return points;
}
