export const median = (values: readonly number[]): number => {
  const sorted = [...values].sort((a, b) => a - b);
  const half = sorted.length >> 1;
  return sorted.length % 2 ? sorted[half] : (sorted[half - 1] + sorted[half]) / 2;
};

export async function timed(work: () => unknown): Promise<number> {
  const began = performance.now();
  await work();
  return performance.now() - began;
}

export async function repeated(times: number, work: () => unknown): Promise<number[]> {
  const taken: number[] = [];
  for (let i = 0; i < times; i++) taken.push(await timed(work));
  return taken;
}

/** The same work timed in turn with another, so that a busy machine slows both: medians, ms. */
export async function inTurn(
  repeats: number,
  first: () => unknown,
  second: () => unknown,
): Promise<[number, number]> {
  const times: [number[], number[]] = [[], []];
  for (let i = 0; i < repeats; i++) {
    times[0].push(await timed(first));
    times[1].push(await timed(second));
  }
  return [median(times[0]), median(times[1])];
}
