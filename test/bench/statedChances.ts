import { surveyModel } from "../../src/head/headsModel";
import { type SurveyedHeads, someHeads, surveyedHeads } from "../../src/head/surveyedHeads";
import {
  calibrationBins,
  calibrationCases,
  fittedModel,
  headsOfTable,
  isHeldOut,
  situations,
} from "./calibration";
import { finishedOf, reedWreath } from "./designs";
import type { Figures } from "./figures";
import { comparedWithFull } from "./fullFits";
import { say } from "./progress";

/** Stated chances against heads that the model does not know: those held out, or those of a file of rows. */
export async function statedChances(figures: Figures, file?: string): Promise<void> {
  const { tell, most } = figures;
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
  await fullChecks(known, figures);
}

/** The light judge against the full checks: the reed wreath on 60 of the heads. */
async function fullChecks(known: SurveyedHeads, { tell }: Figures): Promise<void> {
  say("the reed wreath on 60 of them, by the full checks…");
  const finished = await finishedOf(reedWreath);
  const { same, count, playOff, depthOff } = comparedWithFull(finished, known, 60);
  tell("heads on which the full checks were asked", count, "");
  tell("light judge and full checks say the same", (100 * same) / count, "%");
  tell("girth play, mean difference", playOff, "mm");
  tell("depth in the head, mean difference", depthOff, "mm");
}
