import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { booleans, geometries } from "@jscad/modeling";
import { BodyMaker } from "../../src/build/bodies";
import { crumbVolume, Engine } from "../../src/build/engine";
import type { Finished } from "../../src/build/finished";
import { measurePiece } from "../../src/build/service/measuring";
import { weigh } from "../../src/build/weighing";
import type { TubePart } from "../../src/design/part";
import { Curve } from "../../src/geometry/curve";
import type { TriangleMesh } from "../../src/geometry/mesh";
import { radiusProfile } from "../../src/geometry/radius";
import { solidOfMesh } from "../../src/geometry/solid/body";
import { type Kernel, loadKernel } from "../../src/geometry/solid/kernel";
import { SolidBuilder, type SolidInput } from "../../src/geometry/solid/solidBuilder";
import { defaultTolerance } from "../../src/geometry/sweep";
import type { TubeShape } from "../../src/geometry/tubeShape";
import { completeMeasurements } from "../../src/head/completeMeasurements";
import { buildHeadForm } from "../../src/head/headForm";
import { surveyModel } from "../../src/head/headsModel";
import { type SurveyedHeads, someHeads, surveyedHeads } from "../../src/head/surveyedHeads";
import type { PrintPlan } from "../../src/print/plan";
import { planPrint } from "../../src/print/planPrint";
import {
  calibrationBins,
  calibrationCases,
  fittedModel,
  headsOfTable,
  isHeldOut,
  situations,
} from "./calibration";
import { comparedWithFull } from "./fullFits";
import { edited, grownHead, headAxes, naiveSweep, randomTubes } from "./model";
import { refitFigures } from "./refit";
import { voxelVolume } from "./voxels";

/** One figure of the bench: its bar, and whether it holds. */
interface Figure {
  readonly value: number;
  readonly unit: string;
  /** For example `<= 0.45`; absent: only told. */
  readonly bar?: string;
  readonly holds?: boolean;
}

const figures: Record<string, Figure> = {};
const asJson = process.argv.includes("--json");
const say = (text: string) => console.error(text);

const programFolder = process.env.ANADEM_PROGRAMS ?? "dist";
const programs = {
  evaluator: join(programFolder, "evaluator.cjs"),
  kernel: join(programFolder, "manifold.wasm"),
};
const kernel = await loadKernel(programs.kernel);
const head = { key: "bench head", mesh: grownHead() };

const tell = (name: string, value: number, unit: string) => {
  figures[name] = { value, unit };
};
const most = (name: string, value: number, unit: string, bar: number) => {
  figures[name] = { value, unit, bar: `<= ${bar}`, holds: value <= bar };
};
const least = (name: string, value: number, unit: string, bar: number) => {
  figures[name] = { value, unit, bar: `>= ${bar}`, holds: value >= bar };
};

const median = (values: readonly number[]): number => {
  const sorted = [...values].sort((a, b) => a - b);
  const half = sorted.length >> 1;
  return sorted.length % 2 ? sorted[half] : (sorted[half - 1] + sorted[half]) / 2;
};

async function timed(work: () => unknown): Promise<number> {
  const began = performance.now();
  await work();
  return performance.now() - began;
}

const partsOf = (tubes: readonly TubeShape[]): TubePart[] =>
  tubes.map((shape, i) => ({ kind: "tube", name: `tube ${i + 1}`, shape }));

const inputOf = (maker: BodyMaker, parts: readonly TubePart[]): SolidInput => {
  const { bodies, cuts } = maker.bodiesOf(parts);
  return { bodies, cuts, head, crumbVolume };
};

/** A whole build from nothing: sweep, unite, hollow, finish. */
async function buildAfresh(tubes: readonly TubeShape[]) {
  const builder = new SolidBuilder(kernel);
  try {
    return await builder.build(inputOf(new BodyMaker(defaultTolerance), partsOf(tubes)));
  } finally {
    builder.dispose();
  }
}

function naiveMeshes(tubes: readonly TubeShape[]): TriangleMesh[] {
  return tubes.map((shape) => {
    const curve = new Curve(shape.path);
    const radius = radiusProfile(shape.radius);
    return naiveSweep(
      (s) => curve.pointAt(s),
      (s) => curve.tangentAt(s),
      (s) => radius.at(s),
    );
  });
}

/** The naive way: the kernel on evenly swept tubes, without the time of the sweep. */
function buildNaively({ Manifold }: Kernel, meshes: readonly TriangleMesh[]): void {
  const solids = meshes.map((mesh, i) => solidOfMesh(kernel, mesh, `tube ${i}`));
  const union = Manifold.union(solids);
  const hollow = solidOfMesh(kernel, head.mesh, "head");
  const piece = union.subtract(hollow);
  piece.numTri();
  for (const solid of [...solids, union, hollow, piece]) solid.delete();
}

function buildWithModeling(meshes: readonly TriangleMesh[]): void {
  const bodies = meshes.map(toGeom3);
  booleans.subtract(booleans.union(bodies), toGeom3(head.mesh));
}

function toGeom3({ positions, triangles }: TriangleMesh) {
  const corner = (i: number): [number, number, number] => [
    positions[3 * triangles[i]],
    positions[3 * triangles[i] + 1],
    positions[3 * triangles[i] + 2],
  ];
  return geometries.geom3.fromPoints(
    Array.from({ length: triangles.length / 3 }, (_, t) => [
      corner(3 * t),
      corner(3 * t + 1),
      corner(3 * t + 2),
    ]),
  );
}

/** The same work timed in turn with another, so that a busy machine slows both: medians, ms. */
async function inTurn(
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

async function smallModel(): Promise<void> {
  say("N = 4 against @jscad/modeling…");
  const tubes = randomTubes(4);
  const meshes = naiveMeshes(tubes);
  for (let i = 0; i < 3; i++) await buildAfresh(tubes);
  const modeling = await timed(() => buildWithModeling(meshes));
  const own = median(await repeated(5, () => buildAfresh(tubes)));
  tell("N=4 build", own, "ms");
  tell("N=4 with @jscad/modeling", modeling, "ms");
  least("N=4 times faster than @jscad/modeling", modeling / own, "×", 100);
}

async function repeated(times: number, work: () => unknown): Promise<number[]> {
  const taken: number[] = [];
  for (let i = 0; i < times; i++) taken.push(await timed(work));
  return taken;
}

async function growth(): Promise<void> {
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

/** The tubes as the design file that a person would have. */
function designFile(tubes: readonly TubeShape[]): string {
  const folder = mkdtempSync(join(tmpdir(), "anadem-bench-"));
  process.on("exit", () => rmSync(folder, { recursive: true, force: true }));
  const design = join(folder, "tubes.headpiece.ts");
  const data = tubes.map(({ path, radius }) => ({ points: path.points, radius: radius.radii }));
  writeFileSync(
    design,
    `import { headpiece, tube } from "anadem";
const tubes: { points: [number, number, number][]; radius: number[] }[] = ${JSON.stringify(data)};
export default headpiece({
  name: "Bench",
  make: () => tubes.map(({ points, radius }, i) => tube(\`tube \${i + 1}\`, points, { radius, tip: "flat" })),
});
`,
  );
  return design;
}

async function finishedOf(design: string): Promise<Finished> {
  const engine = new Engine(programs);
  const build = await engine.build({ design });
  await engine.dispose();
  const { result, parties, head: worn, solid, messages } = build;
  if (!result || !parties || !worn || !solid) throw new Error(messages.map(({ text }) => text).join("\n"));
  return { design, result, parties, head: worn, solid, messages };
}

async function largeModel(): Promise<void> {
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

  await edits(tubes, naive);
}

async function edits(tubes: readonly TubeShape[], naive: number): Promise<void> {
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

async function memory(): Promise<void> {
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

async function heads(): Promise<void> {
  say("head forms…");
  const build = (girth: number) => buildHeadForm(completeMeasurements({ girth }).measurements).mesh();
  for (let girth = 540; girth < 560; girth++) build(girth);
  const times: number[] = [];
  for (let girth = 560; girth < 600; girth++) times.push(await timed(() => build(girth)));
  most("head form and mesh", median(times), "ms", 50);
}

const reedWreath = join("samples", "reed-wreath.headpiece.ts");

async function fitAndWear(): Promise<void> {
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

async function printPlan(): Promise<void> {
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

const optionOf = (name: string): string | undefined =>
  process.argv.includes(name) ? process.argv[process.argv.indexOf(name) + 1] : undefined;

/** Stated chances against heads that the model does not know: those held out, or those of `--rows FILE`. */
async function calibration(): Promise<void> {
  const file = optionOf("--rows");
  const survey = surveyedHeads();
  const known = file === undefined ? someHeads(survey, isHeldOut) : headsOfTable(file);
  const model = file === undefined ? fittedModel(survey) : surveyModel();
  say(`${known.count} heads of ${file ?? "the survey, not used to fit"}…`);
  const seed = 20_129;
  const cases = calibrationCases(known, model, 200, seed);
  tell("calibration, seed", seed, "");
  const edges = [0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 0.95, 1];
  for (const { from, to, count, stated, fits } of calibrationBins(cases, edges)) {
    const name = `said ${Math.round(100 * from)} to ${Math.round(100 * to)} %`;
    tell(`${name}: heads`, count, "");
    tell(`${name}: said on average`, 100 * stated, "%");
    tell(`${name}: share that fits`, 100 * fits, "%");
  }
  for (const { name } of situations) {
    const own = cases.filter(({ situation }) => situation === name);
    const [about] = calibrationBins(own, [0.7, 0.9]);
    if (about) tell(`${name} known, said 70 to 90 %: off by`, 100 * (about.fits - about.stated), "%");
  }
  const [about] = calibrationBins(cases, [0.75, 0.85]);
  most("said about 80 %: share that fits, off by", 100 * Math.abs(about.fits - about.stated), "%", 4);
  await fullChecks(known);
}

/** The light judge against the full checks: the reed wreath on 60 of the heads. */
async function fullChecks(known: SurveyedHeads): Promise<void> {
  say("the reed wreath on 60 of them, by the full checks…");
  const finished = await finishedOf(reedWreath);
  const { same, count, playOff, depthOff } = comparedWithFull(finished, known, 60);
  tell("heads on which the full checks were asked", count, "");
  tell("light judge and full checks say the same", (100 * same) / count, "%");
  tell("girth play, mean difference", playOff, "mm");
  tell("depth in the head, mean difference", depthOff, "mm");
}

/** Twelve wearers on all samples, on as many processes as the machine has cores; the bar of seconds is for two. */
async function manyWearers() {
  const found = await refitFigures(programFolder, say);
  const { rows, processes } = found;
  most(`refit of ${rows} rows, ${processes} processes`, found.seconds, "s", 30);
  most(`refit of ${rows} rows, most memory of all processes`, found.peakMB, "MB", 2500);
  tell(`refit of ${rows} rows, those that came to no solid`, found.failed, "");
  most(`refit of ${rows} rows, all good already`, found.idleSeconds, "s", 5);
  tell("refit killed half way, rows made before", found.madeBefore, "");
  least("refit resumed, share of them kept", found.kept / found.madeBefore, "", 1);
  tell("refit resumed", found.resumeSeconds, "s");
}

/** The parts of the bench; `--only NAME` runs one of them. */
const parts = {
  heads,
  wear: fitAndWear,
  plan: printPlan,
  small: smallModel,
  large: largeModel,
  growth,
  memory,
  calibration,
  refit: manyWearers,
};

const asked = process.argv.includes("--only") ? process.argv[process.argv.indexOf("--only") + 1] : undefined;
if (asked !== undefined && !Object.hasOwn(parts, asked)) {
  throw new Error(`--only ${asked}: use one of ${Object.keys(parts).join(", ")}`);
}
for (const [name, run] of Object.entries(parts)) if (asked === undefined || asked === name) await run();

if (asJson) {
  console.log(JSON.stringify(figures, undefined, 2));
} else {
  const width = Math.max(...Object.keys(figures).map((name) => name.length));
  for (const [name, { value, unit, bar, holds }] of Object.entries(figures)) {
    const verdict = holds === undefined ? "" : holds ? "holds" : "DOES NOT HOLD";
    const shown = value >= 100 ? value.toFixed(0) : value.toPrecision(3);
    console.log(
      `${name.padEnd(width)}  ${shown.padStart(8)} ${unit.padEnd(3)} ${(bar ?? "").padEnd(8)} ${verdict}`,
    );
  }
}
process.exitCode = Object.values(figures).every(({ holds }) => holds !== false) ? 0 : 1;
