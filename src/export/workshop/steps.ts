import { hoursAndMinutes } from "../durations";
import { counted, readable } from "../reportSentences";
import { num } from "../sheet/svg";
import type { WorkshopInput } from "./workshopInput";

/** What the person at the printer does, to be ticked off on paper: from the plan's own figures, in order. */
export function workshopSteps(input: WorkshopInput): string[] {
  const { setup, standing, prints = [], supports, props, pieces, finishing } = input;
  const steps: string[] = [];
  if (setup !== undefined) steps.push(`Set up: ${setup}.`);
  if (standing !== undefined)
    steps.push(`Lay the piece on the plate: ${standing.words}. The placed file lies so already.`);
  for (const { name, spoolEnds } of prints) {
    for (const { spool, layer, height, seconds } of spoolEnds) {
      steps.push(
        `${name === undefined ? "Have" : `${name}: have`} the next spool ready after ${hoursAndMinutes(seconds)}, ` +
          `when spool ${spool} ends (layer ${layer + 1}, ${num(height)} mm).`,
      );
    }
  }
  for (const { part, risk } of supports?.thinColumns ?? []) {
    steps.push(`Look at the support under ${part} while it grows: ${risk}.`);
  }
  if (props !== undefined && props.rows.length > 0) {
    steps.push(`Break off ${counted(props.rows.length, "prop")} at the neck and cut what is left flush.`);
  }
  if (supports !== undefined && supports.columns > 0) {
    steps.push(`Take off the supports: ${counted(supports.columns, "column")}.`);
  }
  if (pieces !== undefined && pieces.assembly.length > 0) {
    steps.push(`Join ${counted(pieces.rows.length, "piece")} in the order given.`);
  }
  if (finishing !== undefined) {
    if (finishing.scarCm2 > 0) steps.push(`Smooth ${readable(finishing.scarCm2)} cm² of support scars.`);
    if (finishing.primerMl > 0) steps.push(`Prime: ${readable(finishing.primerMl)} ml.`);
    if (finishing.paintMl > 0) steps.push(`Paint: ${readable(finishing.paintMl)} ml.`);
  }
  return steps;
}
