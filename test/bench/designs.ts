import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Engine } from "../../src/build/engine";
import type { Finished } from "../../src/build/finished";
import type { TubeShape } from "../../src/geometry/tubeShape";
import { programs } from "./programs";

export const reedWreath = join("samples", "reed-wreath.headpiece.ts");

/** The tubes as the design file that a person would have. */
export function designFile(tubes: readonly TubeShape[]): string {
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

/** A design built as the command line does it; throws an Error with the messages where it comes to no solid. */
export async function finishedOf(design: string): Promise<Finished> {
  const engine = new Engine(programs);
  const build = await engine.build({ design });
  await engine.dispose();
  const { result, parties, head: worn, solid, messages } = build;
  if (!result || !parties || !worn || !solid) throw new Error(messages.map(({ text }) => text).join("\n"));
  return { design, result, parties, head: worn, solid, messages };
}
