import { expect, test } from "vitest";
import { BodyMaker } from "../../src/build/bodies";
import { Random } from "../../src/design/random";
import { loadKernel } from "../../src/geometry/solid/kernel";
import { SolidBuilder } from "../../src/geometry/solid/solidBuilder";
import { buildHeadForm } from "../../src/head/headForm";
import { wearerFromDocument } from "../../src/head/wearer";
import { specText } from "./designSpec";
import { randomDesign } from "./generate";
import { type Bench, judge, smallest } from "./judge";

/** `ANADEM_SEED` and `ANADEM_DESIGNS` try others. */
const seed = Number(process.env.ANADEM_SEED ?? 20240611);
const designs = Number(process.env.ANADEM_DESIGNS ?? 1000);
const shown = 3;

async function setUp(): Promise<Bench> {
  const { wearer } = wearerFromDocument({ name: "Marin", units: "mm", girth: 570 });
  const head = buildHeadForm(wearer!.measurements).grown({ offset: 1.6, hairThickness: 3 });
  const builder = new SolidBuilder(await loadKernel());
  // Coarser than a print, so that a thousand fit into a test: what can go wrong does so all the same.
  return {
    builder,
    maker: new BodyMaker(1),
    head,
    headMesh: head.mesh({ columns: 36, rowsAbove: 10, rowsBelow: 6 }),
  };
}

test(`${designs} random designs (seed ${seed}): each one closed piece or a clear error`, async () => {
  const bench = await setUp();
  const all = new Random(seed);
  const outcomes = new Map<string, number>();
  const faults: string[] = [];
  for (let i = 0; i < designs; i++) {
    const spec = randomDesign(all.named(i));
    const verdict = await judge(spec, bench);
    const outcome = verdict.kind === "error" ? `error ${verdict.id}` : verdict.kind;
    outcomes.set(outcome, (outcomes.get(outcome) ?? 0) + 1);
    if (verdict.kind !== "fault") continue;
    if (faults.length >= shown) continue;
    const least = await smallest(spec, async (one) => (await judge(one, bench)).kind === "fault");
    const again = await judge(least, bench);
    faults.push(
      `seed ${seed}, design ${i}: ${again.kind === "fault" ? again.what : verdict.what}\n${specText(least)}`,
    );
  }
  bench.builder.dispose();
  console.log(`seed ${seed}:`, Object.fromEntries([...outcomes].sort((a, b) => b[1] - a[1])));
  expect(faults.join("\n\n")).toBe("");
  // The designs are worth the name: many come out good, and many kinds of error are met.
  expect(outcomes.get("good") ?? 0).toBeGreaterThan(0.2 * designs);
  expect(outcomes.size).toBeGreaterThan(8);
}, 600_000);
