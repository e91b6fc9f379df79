import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";

/**
 * A stream of numbers with the standard normal distribution, the same for a seed for ever: Box and Muller 1958, *A Note
 * on the Generation of Random Normal Deviates*, Annals of Mathematical Statistics 29, over an even generator.
 */
export function seededNormals(seed: number): () => number {
  const generator = xoroshiro128plus(seed | 0);
  // The first numbers of near seeds are near each other too.
  for (let i = 0; i < 16; i++) generator.next();
  const share = () => ((generator.next() >>> 0) + 0.5) / 4294967296;
  let kept: number | undefined;
  return () => {
    if (kept !== undefined) {
      const answer = kept;
      kept = undefined;
      return answer;
    }
    const size = Math.sqrt(-2 * Math.log(share()));
    const angle = 2 * Math.PI * share();
    kept = size * Math.sin(angle);
    return size * Math.cos(angle);
  };
}
