/**
 * `npm run pictures`: draws the pictures of README and walkthrough anew, from drawing sheets that the tool itself makes
 * of the samples, and from the last picture of the editor that `npm run test:host -- drive` took. PNGs need
 * `rsvg-convert` (librsvg); without it only the walkthrough is drawn.
 */
import { spawnSync } from "node:child_process";
import {
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { dist, ensureBundled } from "./bundle.mjs";
import { palettePng } from "./palettePng.mjs";
import { ensurePackages, root } from "./setup.mjs";
import { Sheet } from "./sheetViews.mjs";
import * as steps from "./walkthroughPictures.mjs";

ensurePackages(console.error);
await ensureBundled(console.error);

const samples = ["coral-crown", "rams-horns", "reed-wreath", "kelp-crest", "drowned-stag"];
const work = mkdtempSync(join(tmpdir(), "anadem-pictures-"));

/** Builds a design and gives its sheet and report. */
function made(design, ...options) {
  const out = join(work, `${Math.random()}`);
  const words = [join(dist, "anadem.mjs"), "build", design, "--out", out, ...options];
  const { status, stderr } = spawnSync(process.execPath, words, { cwd: root, encoding: "utf8" });
  if (status !== 0) throw new Error(stderr);
  const name = /([^\\/]+)\.headpiece\.ts$/.exec(design)[1];
  const text = (kind) => readFileSync(join(out, `${name}.${kind}`), "utf8");
  return {
    sheet: new Sheet(text("drawing.svg")),
    svg: text("drawing.svg"),
    report: JSON.parse(text("report.json")),
  };
}
const sample = (name, ...options) => made(join("samples", `${name}.headpiece.ts`), ...options);

/** @param {boolean} [isPhoto] too many colours for a palette */
function writePng(name, svg, width, isPhoto = false) {
  const input = join(work, `${name}.svg`);
  const output = join(work, `${name}.png`);
  writeFileSync(input, svg);
  const { error } = spawnSync("rsvg-convert", ["-w", String(width), "-b", "#fdfbf5", input, "-o", output]);
  if (error) return console.error(`${name}.png is left as it is: there is no rsvg-convert`);
  mkdirSync(join(root, "media", "pictures"), { recursive: true });
  writeFileSync(
    join(root, "media", "pictures", `${name}.png`),
    isPhoto ? readFileSync(output) : palettePng(readFileSync(output)),
  );
}

/** Code and preview as the editor shows them, without what is around them. */
function cutOut(file) {
  const data = readFileSync(file).toString("base64");
  return (
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="352 30 1148 892">` +
    `<image width="1500" height="950" href="data:image/png;base64,${data}"/></svg>`
  );
}

try {
  const pieces = Object.fromEntries(samples.map((name) => [name, sample(name)]));
  for (const [name, { sheet }] of Object.entries(pieces)) writePng(name, sheet.picture("picture"), 360);
  writePng("coral-crown-sheet", pieces["coral-crown"].svg, 1000);

  const screens = join(root, ".vscode-test", "screenshots");
  const screen =
    existsSync(screens) && readdirSync(screens).find((name) => name.endsWith("-coral-front.png"));
  if (screen) writePng("preview", cutOut(join(screens, screen)), 1148, true);

  // What the README shows as a design, and what it makes.
  const [, shown] = /```ts\n([\s\S]*?)```/.exec(readFileSync(join(root, "README.md"), "utf8"));
  writeFileSync(join(work, "reed-rays.headpiece.ts"), shown);
  cpSync(join(root, "samples", "marsh-warden.wearer.json"), join(work, "marsh-warden.wearer.json"));
  writePng("reed-rays", made(join(work, "reed-rays.headpiece.ts")).sheet.picture("picture"), 360);

  spawnSync(process.execPath, [join(dist, "anadem.mjs"), "new", "reed-crown"], { cwd: work });
  const begun = made(join(work, "reed-crown.headpiece.ts"));
  const crown = pieces["coral-crown"];
  const moved = [
    sample("coral-crown", "--set", "branches=5", "--set", "reach=40"),
    crown,
    sample("coral-crown", "--set", "branches=14", "--set", "reach=120", "--set", "mood=storm"),
  ];
  const folder = join(root, "media", "walkthrough");
  mkdirSync(folder, { recursive: true });
  const write = (name, svg) => writeFileSync(join(folder, `${name}.svg`), svg);
  const design = readFileSync(join(work, "reed-crown.headpiece.ts"), "utf8");
  write("newDesign", steps.designBesidePiece(design, begun.sheet));
  write("preview", steps.pieceOnHead(crown.sheet));
  write("wearer", steps.measuredHead(crown.sheet, crown.report));
  write("parameters", steps.threeOfOne(moved.map(({ sheet }) => sheet)));
  write("export", steps.onPlate(crown.sheet, crown.report));
} finally {
  rmSync(work, { recursive: true, force: true });
}
