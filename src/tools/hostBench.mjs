/**
 * `npm run bench:host`: what a save costs in a real editor, from the save to the picture and to the final solid on the
 * screen: medians over 30 saves of a one-tube edit of the reed wreath, and over 10 that each edit another tube.
 * `-- --json` gives one object; `--host desktop` or `server`: in that host.
 */

import { parseArgs } from "node:util";
import { endOnInterrupt } from "./hostProcess.mjs";
import { bundleSuite, runSuite } from "./hostSuite.mjs";
import { ensurePackages } from "./setup.mjs";
import { stageExtension } from "./stage.mjs";

const text = /** @type {const} */ ({ type: "string" });
const { values } = parseArgs({ options: { json: { type: "boolean" }, host: text, extension: text } });
const say = (line) => console.error(line);
ensurePackages(say);
endOnInterrupt();

const run = await runSuite({
  suite: await bundleSuite("test/host/bench/main.ts", "bench"),
  extension: values.extension ?? (await stageExtension({ say })),
  wanted: values.host,
  withSamples: false,
  // Without a graphics card every frame of the editor is work for the processor: few of them, and small ones.
  window: { width: 1024, height: 640 },
  settings: {
    "editor.cursorBlinking": "solid",
    "editor.minimap.enabled": false,
    "workbench.reduceMotion": "on",
  },
  say,
});
if (run.fault || run.failed > 0) {
  say(`The bench did not come to its end. ${run.fault}`);
  process.exit(1);
}

const { activation, saves, otherSaves } = run.figures;
const figures = {
  "saved file to first picture": figure(
    saves.map(({ draft }) => draft),
    150,
  ),
  "saved file to final solid": figure(
    saves.map(({ solid }) => solid),
    600,
  ),
  "extension host busy with ours": figure(
    saves.map(({ busyOurs }) => busyOurs),
    20,
  ),
  "extension host busy with all": figure(saves.map(({ busyAll }) => busyAll)),
  activation: figure([activation], 150),
  "from the command to the saved file": figure(saves.map(({ saving }) => saving)),
  ...Object.fromEntries(
    [...new Set(saves.flatMap(({ stages }) => Object.keys(stages)))].map((stage) => [
      `engine: ${stage}`,
      figure(saves.map(({ stages }) => stages[stage] ?? 0)),
    ]),
  ),
  "preview: drawing the draft": figure(saves.map(({ drawingDraft }) => drawingDraft)),
  "preview: drawing the solid": figure(saves.map(({ drawingSolid }) => drawingSolid)),
  "another tube each time: to first picture": figure(otherSaves.map(({ draft }) => draft)),
  "another tube each time: to final solid": figure(otherSaves.map(({ solid }) => solid)),
};

if (values.json) {
  console.log(JSON.stringify({ host: run.host, saves: saves.length, figures }, undefined, 2));
} else {
  console.log(`${run.host}; medians over ${saves.length} saves, ms (least and greatest)`);
  const width = Math.max(...Object.keys(figures).map((name) => name.length));
  for (const [name, { value, least, most, bar, holds }] of Object.entries(figures)) {
    const verdict = bar === undefined ? "" : `${bar.padEnd(7)} ${holds ? "holds" : "DOES NOT HOLD"}`;
    const range = `(${least.toFixed(0)}–${most.toFixed(0)})`;
    console.log(`${name.padEnd(width)}  ${value.toFixed(0).padStart(6)} ${range.padEnd(12)} ${verdict}`);
  }
}
process.exit(Object.values(figures).every(({ holds }) => holds !== false) ? 0 : 1);

/** The median of some times, ms, and the bar that it is held to. */
function figure(times, bar) {
  const sorted = [...times].sort((a, b) => a - b);
  const half = sorted.length >> 1;
  const value = sorted.length % 2 ? sorted[half] : (sorted[half - 1] + sorted[half]) / 2;
  const range = { least: sorted[0], most: sorted[sorted.length - 1] };
  return {
    value,
    unit: "ms",
    ...range,
    ...(bar !== undefined && { bar: `<= ${bar}`, holds: value <= bar }),
  };
}
