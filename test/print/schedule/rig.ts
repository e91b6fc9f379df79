import { uniformInt } from "pure-rand/distribution/uniformInt";
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";
import { weekdays } from "../../../src/print/schedule/calendar";
import type { PrinterTime } from "../../../src/print/schedule/printerTime";

/** A printer that may run and be begun at any time from day 0 on. */
export const always: PrinterTime = { attended: [0, 24], weekdays, from: 0, hoursADay: 24 };

/** Whole numbers of a range, ends counted, from a seed. */
export function seeded(seed: number): (least: number, most: number) => number {
  const generator = xoroshiro128plus(seed);
  return (least, most) => uniformInt(generator, least, most);
}
