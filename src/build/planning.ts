import { composePlan, type ReportPlan } from "../export/planReport";
import type { Kernel } from "../geometry/solid/kernel";
import type { PrintPlan } from "../print/plan";
import { type PlanOptions, planPrint } from "../print/planPrint";
import { besideFile } from "./besideFile";
import type { Finished } from "./finished";
import type { Weighed } from "./weighing";

/** Plans the print of a finished piece to its end. */
export function planOf(kernel: Kernel, { job, standing }: Weighed, options: PlanOptions = {}): PrintPlan {
  let last: PrintPlan | undefined;
  for (const plan of planPrint(kernel, job, standing, options)) last = plan;
  if (!last) throw new Error("a plan has at least one step");
  return last;
}

/** A plan as the report of a design has it. */
export const reportPlanOf = (
  plan: PrintPlan,
  { job }: Pick<Weighed, "job">,
  { design }: Finished,
): ReportPlan =>
  composePlan(
    plan,
    job,
    plan.findings.map((finding) => besideFile(finding, design)),
  );
