import { BodyMaker } from "../../src/build/bodies";
import { SolidBuilder, type SolidInput } from "../../src/geometry/solid/solidBuilder";
import { defaultTolerance } from "../../src/geometry/sweep";
import type { TubeShape } from "../../src/geometry/tubeShape";
import type { Figures } from "./figures";
import { edited, headAxes, randomTubes } from "./model";
import { kernel } from "./programs";
import { say } from "./progress";
import { inTurn, median, timed } from "./timing";
import { buildAfresh, buildNaively, inputOf, naiveMeshes, partsOf } from "./tubeSolids";
import { voxelVolume } from "./voxels";

/** Sixty tubes: a build afresh against the naive way, its volume, and edits of one tube. */
export async function largeModel(figures: Figures): Promise<void> {
  const { tell, most } = figures;
  say("N = 60 against the naive sweep…");
  const tubes = randomTubes(60);
  const meshes = naiveMeshes(tubes);
  await buildAfresh(tubes);
  const [naive, own] = await inTurn(
    3,
    () => buildNaively(kernel, meshes),
    () => buildAfresh(tubes),
  );
  tell("N=60 naive", naive, "ms");
  tell("N=60 build", own, "ms");
  most("N=60 build, share of naive", own / naive, "", 0.45);

  say("N = 60 volume by voxels…");
  const { pieces, crumbs } = await buildAfresh(tubes);
  const built = pieces.reduce((sum, { volume }) => sum + volume, 0) + crumbs.volume;
  const [a, b, c] = headAxes.map((axis) => axis + 3);
  const counted = voxelVolume(tubes, ([x, y, z]) => (x / a) ** 2 + (y / b) ** 2 + (z / c) ** 2 > 1);
  most("N=60 volume against voxels", 100 * Math.abs(built / counted - 1), "%", 0.3);

  await edits(tubes, naive, figures);
}

async function edits(tubes: readonly TubeShape[], naive: number, { tell, most }: Figures): Promise<void> {
  say("N = 60, one tube edited…");
  const maker = new BodyMaker(defaultTolerance);
  const builder = new SolidBuilder(kernel);
  await builder.build(inputOf(maker, partsOf(tubes)));
  const parts = partsOf(tubes);
  const edit = (tube: number, by: number) =>
    parts.map((part, i) => (i === tube ? { ...part, shape: edited(tubes[tube], by) } : part));
  const first: number[] = [];
  const later: number[] = [];
  const picture: number[] = [];
  for (const tube of [7, 23, 41]) {
    for (let save = 1; save <= 6; save++) {
      const changed = edit(tube, 0.25 * save);
      let input: SolidInput | undefined;
      const swept = await timed(() => {
        input = inputOf(maker, changed);
      });
      picture.push(swept);
      const whole = swept + (await timed(() => input && builder.build(input, { incremental: true })));
      (save === 1 ? first : later).push(whole);
    }
  }
  builder.dispose();
  tell("N=60 one tube edited, final solid", median(later), "ms");
  most("N=60 one tube edited, final solid, share of naive", median(later) / naive, "", 0.1);
  tell("N=60 first edit of another tube, share of naive", median(first) / naive, "");
  most("N=60 one tube edited, first picture, share of naive", median(picture) / naive, "", 0.03);
}
