import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { afterAll, beforeAll, expect, test, vi } from "vitest";
import { Engine } from "../../src/build/engine";
import { finishedOf } from "../../src/build/finishedFiles";
import { limitsInForce } from "../../src/build/limitsInForce";
import { wornHeadOf } from "../../src/build/wornHeads";
import { gap } from "../../src/checks/gap";
import { massProperties } from "../../src/checks/massProperties";
import { WornPiece } from "../../src/checks/wornPiece";
import { bundleEvaluator, realEvaluator } from "../build/bundleEvaluator";
import { DesignFolder } from "../build/designFolder";

vi.setConfig({ testTimeout: 300_000, hookTimeout: 300_000 });

/**
 * Heads of the 2012 Anthropometric Survey of U.S. Army Personnel (ANSUR II; Gordon et al. 2014, NATICK/TR-15/007), with
 * the extremes of each measure, of girth for length and breadth, and of breadth to length: see the file.
 */
const { rows } = JSON.parse(readFileSync(new URL("data/ansur2-heads.json", import.meta.url), "utf8")) as {
  readonly rows: readonly (readonly [number, number, number, number])[];
};

/** mm of girth: what the ease asks for, and how far off the play may be. */
const ease = 8;
const tolerance = 0.5;

const kernel = createRequire(import.meta.url).resolve("manifold-3d/manifold.wasm");
let engine: Engine;
let removeBundle: () => void;
let folder: DesignFolder;
beforeAll(async () => {
  const { entry, remove } = await bundleEvaluator(realEvaluator);
  removeBundle = remove;
  engine = new Engine({ evaluator: entry, kernel }, { keepWarm: true });
  folder = new DesignFolder();
});
afterAll(async () => {
  await engine.dispose();
  removeBundle();
  folder.remove();
});

const bands = {
  "on the girth line": "head.girthLine",
  "raised by 14 mm": "head.girthLine.raised(14)",
};

/** mm of girth that a band has to spare on a head. */
async function playOf(line: string, [girth, length, breadth, crownHeight]: (typeof rows)[number]) {
  const hairThickness = girth % 3 === 0 ? 6 : 0;
  folder.write({
    "head.wearer.json": JSON.stringify({
      name: "A head of the survey",
      units: "mm",
      girth,
      length,
      breadth,
      crownHeight,
      hairThickness,
      ease: { girth: ease },
    }),
    "band.headpiece.ts": `import { band, headpiece } from "anadem";
export default headpiece({
  name: "Foam band", wearer: "head.wearer.json",
  make: ({ head }) => [band("ring", ${line}, { radius: 5 })],
});`,
  });
  const design = folder.file("band.headpiece.ts");
  const build = await engine.build({ design });
  engine.forget(design);
  const finished = finishedOf(design, build);
  if (!finished) throw new Error(build.messages.map(({ text }) => text).join("; "));
  const { mesh } = finished.solid;
  const limits = limitsInForce(finished);
  const piece = new WornPiece({
    mesh,
    parts: finished.result.parts,
    material: finished.parties.material,
    print: finished.parties.print.settings,
    mass: 20,
    centre: massProperties(mesh).centre,
  });
  return gap(piece, wornHeadOf(finished, limits.hairPressed.value), limits).play?.girth;
}

test.each(Object.entries(bands))(
  "girth play is the ease on every head of the survey, for a band %s",
  async (_, line) => {
    // Half of the heads for each band: neighbours in girth, so that both have the range.
    const own = rows.filter(
      (_, i) => i % 2 === Object.values(bands).indexOf(line) || i === 0 || i === rows.length - 1,
    );
    const off: string[] = [];
    let worst = 0;
    for (const row of own) {
      const play = await playOf(line, row);
      const error = play === undefined ? Number.POSITIVE_INFINITY : play - ease;
      if (Math.abs(error) > Math.abs(worst)) worst = error;
      if (!(Math.abs(error) <= tolerance)) off.push(`${row.join(", ")}: ${play}`);
    }
    console.log(`${line}: ${own.length} heads, at worst ${worst.toFixed(2)} mm off the ease`);
    expect(own.length).toBeGreaterThanOrEqual(24);
    expect(off).toEqual([]);
  },
);
