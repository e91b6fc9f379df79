import { type Figures, makeFigures } from "./figures";
import { fitAndWear } from "./fitAndWear";
import { growth } from "./growth";
import { headForms } from "./headForms";
import { largeModel } from "./largeModel";
import { manyWearers } from "./manyWearers";
import { memory } from "./memory";
import { printPlan } from "./printPlan";
import { smallModel } from "./smallModel";
import { statedChances } from "./statedChances";

const optionOf = (name: string): string | undefined =>
  process.argv.includes(name) ? process.argv[process.argv.indexOf(name) + 1] : undefined;

/** The parts of the bench; `--only NAME` runs one of them. */
const parts = {
  heads: headForms,
  wear: fitAndWear,
  plan: printPlan,
  small: smallModel,
  large: largeModel,
  growth,
  memory,
  calibration: (told: Figures) => statedChances(told, optionOf("--rows")),
  refit: manyWearers,
};

const figures = makeFigures();
const asked = optionOf("--only");
if (asked !== undefined && !Object.hasOwn(parts, asked)) {
  throw new Error(`--only ${asked}: use one of ${Object.keys(parts).join(", ")}`);
}
for (const [name, run] of Object.entries(parts))
  if (asked === undefined || asked === name) await run(figures);

if (process.argv.includes("--json")) {
  console.log(JSON.stringify(figures.all, undefined, 2));
} else {
  const width = Math.max(...Object.keys(figures.all).map((name) => name.length));
  for (const [name, { value, unit, bar, holds }] of Object.entries(figures.all)) {
    const verdict = holds === undefined ? "" : holds ? "holds" : "DOES NOT HOLD";
    const shown = value >= 100 ? value.toFixed(0) : value.toPrecision(3);
    console.log(
      `${name.padEnd(width)}  ${shown.padStart(8)} ${unit.padEnd(3)} ${(bar ?? "").padEnd(8)} ${verdict}`,
    );
  }
}
process.exitCode = Object.values(figures.all).every(({ holds }) => holds !== false) ? 0 : 1;
