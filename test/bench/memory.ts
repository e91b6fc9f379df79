import { BodyMaker } from "../../src/build/bodies";
import { SolidBuilder } from "../../src/geometry/solid/solidBuilder";
import { defaultTolerance } from "../../src/geometry/sweep";
import type { Figures } from "./figures";
import { edited, randomTubes } from "./model";
import { kernel } from "./programs";
import { say } from "./progress";
import { median } from "./timing";
import { inputOf, partsOf } from "./tubeSolids";

/** What a process holds after many saves. */
export async function memory({ tell, most }: Figures): Promise<void> {
  say("300 rebuilds…");
  const tubes = randomTubes(60);
  const maker = new BodyMaker(defaultTolerance);
  const builder = new SolidBuilder(kernel);
  const parts = partsOf(tubes);
  const taken: number[] = [];
  for (let save = 0; save < 300; save++) {
    const tube = Math.floor(save / 10) % tubes.length;
    const changed = parts.map((part, i) =>
      i === tube ? { ...part, shape: edited(tubes[tube], 0.1 + 0.05 * (save % 10)) } : part,
    );
    await builder.build(inputOf(maker, changed), { incremental: save % 50 !== 0 });
    (globalThis as { gc?: () => void }).gc?.();
    taken.push(process.memoryUsage().rss / 2 ** 20);
  }
  builder.dispose();
  const early = median(taken.slice(50, 100));
  const late = median(taken.slice(250));
  tell("memory after 300 rebuilds", late, "MB");
  most("memory growth over 300 rebuilds", 100 * (late / early - 1), "%", 10);
}
