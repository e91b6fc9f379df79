/** Some of many points: x, y, z of each in turn. */
export function pointsAt(positions: Float32Array, samples: Uint32Array): Float32Array {
  const answer = new Float32Array(3 * samples.length);
  for (let k = 0; k < samples.length; k++) {
    const at = 3 * samples[k];
    answer[3 * k] = positions[at];
    answer[3 * k + 1] = positions[at + 1];
    answer[3 * k + 2] = positions[at + 2];
  }
  return answer;
}
