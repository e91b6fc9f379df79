import { completeMeasurements } from "../../src/head/completeMeasurements";
import { buildHeadForm } from "../../src/head/headForm";
import type { Figures } from "./figures";
import { say } from "./progress";
import { median, timed } from "./timing";

export async function headForms({ most }: Figures): Promise<void> {
  say("head forms…");
  const build = (girth: number) => buildHeadForm(completeMeasurements({ girth }).measurements).mesh();
  for (let girth = 540; girth < 560; girth++) build(girth);
  const times: number[] = [];
  for (let girth = 560; girth < 600; girth++) times.push(await timed(() => build(girth)));
  most("head form and mesh", median(times), "ms", 50);
}
