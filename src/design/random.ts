import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";
import type { RandomGenerator } from "pure-rand/types/RandomGenerator";
import { number } from "./check";

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
    this.#generator = xoroshiro128plus(this.#seed);
  }

  /** A number from 0 up to, but not, 1. */
  share(): number {
    return (this.#generator.next() >>> 0) / 4294967296;
  }

  /** A number between two others. */
  between(least: number, most: number): number {
    number(least, "least of random.between");
    number(most, "most of random.between");
    return least + (most - least) * this.share();
  }

  /** A whole number from `least` to `most`, both included. */
  whole(least: number, most: number): number {
    const low = Math.ceil(number(least, "least of random.whole"));
    const high = Math.floor(number(most, "most of random.whole"));
    return low + Math.floor((high - low + 1) * this.share());
  }

  /** One of a list. */
  oneOf<T>(list: readonly T[]): T {
    return list[Math.floor(list.length * this.share())];
  }

  /** A stream of its own under a name: it does not change when other parts draw more or fewer numbers. */
  named(name: string | number): Random {
    let hash = 0x811c9dc5 ^ this.#seed;
    for (const character of String(name)) {
      hash = Math.imul(hash ^ (character.codePointAt(0) ?? 0), 0x01000193);
    }
    return new Random(hash);
  }
}
