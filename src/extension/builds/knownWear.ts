import { checkNames } from "../../checks/finding";
import type { WearAnswer } from "../../checks/wear";
import type { KnownWear } from "./designRecord";

/** What is known once one more question is answered; what is known of an older solid is left behind. */
export function withAnswer(
  known: KnownWear | undefined,
  { check, answers, findings }: Omit<WearAnswer, "innerGaps">,
  version: number,
): KnownWear {
  const before = known?.version === version ? known : undefined;
  const answered = new Set([...(before?.answered ?? []), check]);
  return {
    version,
    answered,
    answers: { ...before?.answers, ...answers },
    findings: [...(before?.findings ?? []), ...findings],
    isWhole: checkNames.every((name) => answered.has(name)),
  };
}
