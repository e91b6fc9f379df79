import type { TubeShape } from "../../src/geometry/tubeShape";
import { designFile, finishedOf } from "./designs";
import type { Figures } from "./figures";
import { randomTubes } from "./model";
import { say } from "./progress";
import { inTurn, median, repeated } from "./timing";
import { buildAfresh } from "./tubeSolids";

/** How the time of a build grows with its tubes. */
export async function growth({ tell, most }: Figures): Promise<void> {
  say("N = 12, 60, 200…");
  tell("N=12 build", median(await repeated(5, () => buildAfresh(randomTubes(12)))), "ms");
  const [sixty, twoHundred] = [randomTubes(60), randomTubes(200)];
  const [short, long] = await inTurn(
    3,
    () => buildAfresh(sixty),
    () => buildAfresh(twoHundred),
  );
  tell("N=200 build", long, "ms");
  tell("growth from 60 to 200 tubes, solid alone, against linear", long / short / (200 / 60), "×");
  const [wholeShort, wholeLong] = await inTurn(3, wholeBuild(sixty), wholeBuild(twoHundred));
  tell("N=60 from design file to checked solid", wholeShort, "ms");
  tell("N=200 from design file to checked solid", wholeLong, "ms");
  most("growth from 60 to 200 tubes, against linear", wholeLong / wholeShort / (200 / 60), "×", 1);
}

/** A build as the command line does it: the design file compiled, run in its own process, united and checked. */
function wholeBuild(tubes: readonly TubeShape[]): () => Promise<void> {
  const design = designFile(tubes);
  return async () => {
    await finishedOf(design);
  };
}
