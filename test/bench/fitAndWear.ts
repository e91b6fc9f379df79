import { measurePiece } from "../../src/build/service/measuring";
import { finishedOf, reedWreath } from "./designs";
import type { Figures } from "./figures";
import { say } from "./progress";
import { median } from "./timing";

export async function fitAndWear({ tell, most }: Figures): Promise<void> {
  say("fit and wear of the reed wreath…");
  const { design, result, parties, solid, messages } = await finishedOf(reedWreath);
  // As the thread does that measures, from the finished solid on: the plate, then one answer after the other.
  const answered: number[][] = [];
  const whole: number[] = [];
  for (let i = 0; i < 9; i++) {
    const began = performance.now();
    const times: number[] = [];
    measurePiece({ design, result, parties, solid, messages }, ({ kind }) => {
      if (kind === "check") times.push(performance.now() - began);
    });
    whole.push(performance.now() - began);
    // The first two find nothing compiled and no head.
    if (i >= 2) answered.push(times);
  }
  tell("tubes of the wreath", result.parts.filter(({ kind }) => kind === "tube").length, "");
  tell("triangles of the wreath", solid.mesh.triangles.length / 3, "");
  tell("fit and wear, first answer after the solid", median(answered.map(([first]) => first)), "ms");
  most(
    "fit and wear, all answers after the solid",
    median(answered.map((times) => times.at(-1)!)),
    "ms",
    1500,
  );
  tell("fit and wear, first time in a process", answered.length > 0 ? whole[0] : 0, "ms");
  tell("measured, judged and reported", median(whole.slice(2)), "ms");
}
