import type { Finished } from "../../src/build/finished";
import { weigh } from "../../src/build/weighing";
import type { PrintPlan } from "../../src/print/plan";
import { planPrint } from "../../src/print/planPrint";
import { designFile, finishedOf, reedWreath } from "./designs";
import type { Figures } from "./figures";
import { randomTubes } from "./model";
import { kernel } from "./programs";
import { say } from "./progress";
import { median } from "./timing";

export async function printPlan({ tell, most, least }: Figures): Promise<void> {
  say("plan of the reed wreath…");
  const wreath = await finishedOf(reedWreath);
  // The first two find nothing compiled.
  const runs = Array.from({ length: 7 }, () => planTimes(wreath)).slice(2);
  const mid = (of: (times: PlanTimes) => number) => median(runs.map(of));
  const [{ plan }] = runs;
  tell("layers of the wreath's plan", plan.plates[0].layers.count, "");
  least("directions that a plan compares", plan.search!.compared, "", 500);
  most(
    "plan of the wreath, first answer after the solid",
    mid(({ first }) => first),
    "ms",
    500,
  );
  most(
    "plan of the wreath, best way up after the solid",
    mid(({ searched }) => searched),
    "ms",
    3000,
  );
  tell(
    "plan of the wreath, all with props after the solid",
    mid(({ whole }) => whole),
    "ms",
  );

  tell(
    "plan of the wreath, first answer, work of the processor",
    mid(({ work }) => work[0]),
    "ms",
  );
  tell(
    "plan of the wreath, best way up, work of the processor",
    mid(({ work }) => work[1]),
    "ms",
  );

  say("plans of N = 60, 200…");
  const [sixty, twoHundred] = [
    await finishedOf(designFile(randomTubes(60))),
    await finishedOf(designFile(randomTubes(200))),
  ];
  const searched: [number[], number[]] = [[], []];
  for (let i = 0; i < 4; i++) {
    [sixty, twoHundred].forEach((finished, k) => {
      const times = planTimes(finished, true);
      if (i > 0) searched[k].push(times.searched);
    });
  }
  const [short, long] = searched.map(median);
  most("N=60 plan, best way up after the solid", short, "ms", 3000);
  tell("N=200 plan, best way up after the solid", long, "ms");
  most("growth of the plan from 60 to 200 tubes, against linear", long / short / (200 / 60), "×", 1);
}

/** A plan from the finished solid on, with nothing known of the piece: ms from its start to each answer. */
interface PlanTimes {
  /** Mass, hours and grams of the piece as it stands, with its supports. */
  readonly first: number;
  /** All ways up compared. */
  readonly searched: number;
  /** Cuts, or props and what the print takes with them. */
  readonly whole: number;
  /** What the processor worked until the first and until all ways up were compared: a busy machine makes answers wait. */
  readonly work: readonly [number, number];
  readonly plan: PrintPlan;
}

function planTimes(finished: Finished, onlySearch = false): PlanTimes {
  const { mesh } = finished.solid;
  // What is kept by a piece's triangles is none of this one.
  const anew = { ...mesh, triangles: mesh.triangles.slice() };
  const began = performance.now();
  const idle = process.cpuUsage();
  const { job, standing } = weigh({ ...finished, solid: { ...finished.solid, mesh: anew } });
  const answers: number[] = [];
  const work: number[] = [];
  let plan: PrintPlan | undefined;
  for (plan of planPrint(kernel, job, standing)) {
    answers.push(performance.now() - began);
    const { user, system } = process.cpuUsage(idle);
    work.push((user + system) / 1000);
    if (onlySearch && plan.search) break;
  }
  return {
    first: answers[0],
    searched: answers[1],
    whole: answers.at(-1)!,
    work: [work[0], work[1]],
    plan: plan!,
  };
}
