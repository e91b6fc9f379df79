import type { PlanFacts } from "../../build/service/protocol";
import { orientationFigures, planLines } from "../../export/planSentences";
import type { PlanScene } from "../../preview/protocol";
import { trimmed } from "../builds/meshBuffers";
import { markOf } from "./findingMarks";

/** What a view shows of the plan of a print that is known so far. */
export function planScene(facts: PlanFacts): PlanScene {
  const { plan, layers, pictures } = facts;
  const figures = orientationFigures(plan);
  return {
    isWhole: facts.isWhole,
    printer: plan.printer,
    outline: facts.outline,
    height: facts.height,
    toHead: facts.toHead,
    overhangAngle: plan.settings.overhangAngle,
    rows: planLines(plan),
    marks: facts.findings.flatMap(markOf),
    orientations: plan.orientations.map((one, i) => ({
      name: one.names.join(", "),
      words: one.words,
      orientation: one.isAsDesigned
        ? "as designed"
        : { tilt: one.tiltDegrees, towards: one.towardsDegrees, turn: one.turnDegrees },
      figures: figures[i],
      ...(pictures[i] !== undefined && { picture: pictures[i] }),
      isChosen: one.isChosen,
    })),
    layers: {
      count: layers.seconds.length,
      height: layers.height,
      seconds: trimmed(layers.seconds),
      metres: trimmed(layers.metres),
      spoolEnds: layers.spoolEnds,
    },
  };
}
