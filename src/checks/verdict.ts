import type { Finding } from "./finding";

/** What a tailor would say: wear it, adjust it first, don't wear it. */
export type VerdictWord = "wear" | "adjust" | "dont";

export interface Verdict {
  readonly word: VerdictWord;
  /** The findings that speak against it, the gravest first, one sentence each. */
  readonly reasons: readonly string[];
}

/** How the verdict reads. */
export const verdictTitles: Readonly<Record<VerdictWord, string>> = {
  wear: "Wear",
  adjust: "Adjust first",
  dont: "Don't wear",
};

/** The verdict on a piece: *don't* for an error among the findings, *adjust* for a warning, else *wear*. */
export function verdictOf(findings: readonly Pick<Finding, "severity" | "text">[]): Verdict {
  const errors = findings.filter(({ severity }) => severity === "error");
  const warnings = findings.filter(({ severity }) => severity === "warning");
  return {
    word: errors.length > 0 ? "dont" : warnings.length > 0 ? "adjust" : "wear",
    reasons: [...errors, ...warnings].map(({ text }) => text),
  };
}
