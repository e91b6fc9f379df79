import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";
import type { RandomGenerator } from "pure-rand/types/RandomGenerator";
import { number, shown } from "./check";
import { designError } from "./error";

/**
 * Seeded random numbers: the same design, seed and name give the same numbers for ever, so that a piece is
 * the same piece tomorrow.
 *
 * @example
 * const wobble = random.between(-8, 8);
 * const own = random.named("left horn"); // numbers that stay when other parts draw more or fewer
 */
export class Random {
  readonly #seed: number;
  readonly #generator: RandomGenerator;

  constructor(seed: number) {
    this.#seed = seed | 0;
    this.#generator = xoroshiro128plus(mixed(this.#seed));
    // The first numbers of near seeds are near each other too.
    for (let i = 0; i < 16; i++) this.#generator.next();
  }

  /**
   * A number from 0 up to, but not, 1.
   * @example random.share() < 0.3 // three times out of ten
   */
  share(): number {
    return (this.#generator.next() >>> 0) / 4294967296;
  }

  /**
   * A number between two others.
   * @example random.between(-8, 8)
   */
  between(least: number, most: number): number {
    number(least, "least of random.between");
    number(most, "most of random.between");
    return least + (most - least) * this.share();
  }

  /**
   * A whole number from `least` to `most`, both included.
   * @example random.whole(1, 6)
   */
  whole(least: number, most: number): number {
    const low = Math.ceil(number(least, "least of random.whole"));
    const high = Math.floor(number(most, "most of random.whole", { least: low }));
    return low + Math.floor((high - low + 1) * this.share());
  }

  /**
   * One of a list.
   * @example random.oneOf(["calm", "storm"])
   */
  oneOf<T>(list: readonly T[]): T {
    if (!Array.isArray(list) || list.length === 0) {
      throw designError({
        id: "empty-list",
        text: `random.oneOf takes a list to choose from, not ${shown(list)}`,
        suggestion: "give a list of at least one",
      });
    }
    return list[Math.floor(list.length * this.share())];
  }

  /**
   * A stream of its own under a name: it does not change when other parts draw more or fewer numbers.
   * @example random.named("left horn").between(20, 40)
   */
  named(name: string | number): Random {
    let hash = 0x811c9dc5 ^ this.#seed;
    for (const character of String(name)) {
      hash = Math.imul(hash ^ (character.codePointAt(0) ?? 0), 0x01000193);
    }
    return new Random(mixed(hash));
  }
}

/** Spreads a seed over all 32 bits (the finalizer of MurmurHash3, Appleby, public domain). */
function mixed(seed: number): number {
  let h = Math.imul(seed ^ (seed >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return h ^ (h >>> 16);
}
