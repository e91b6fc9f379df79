import type { PlanEvent } from "../../build/service/protocol";
import type { ReportPlan } from "../../export/planReport";
import type { Report } from "../../export/report";
import { reportSummary } from "../../export/reportSummary";
import type { KnownPlan } from "./designRecord";
import { meshBuffers } from "./meshBuffers";

/** What is known once the plan tells more; what is known of an older solid is left behind. */
export function withPlanned(
  known: KnownPlan | undefined,
  event: PlanEvent,
  version: number,
): KnownPlan | undefined {
  const before = known?.version === version ? known : undefined;
  if (event.kind === "plan") return { version, facts: event.plan, bodies: before?.bodies ?? new Map() };
  // Bodies come after the first facts, and belong to them.
  if (!before) return known;
  const mesh = event.mesh && meshBuffers(event.mesh);
  return { ...before, bodies: new Map([...before.bodies, [event.body, mesh]]) };
}

/** The report with its plan, in the place where that of the command line has it; its summary then tells the hours. */
export const withPlan = ({ messages, cautions, ...before }: Report, plan: ReportPlan): Report => ({
  ...before,
  summary: reportSummary({
    ...before,
    ...(before.wear && { verdict: before.wear.verdict }),
    hours: plan.hours,
  }),
  plan,
  messages,
  cautions,
});
