import type { Limits } from "../wearLimits";
import type { ArmStrength } from "./beams/armStrength";
import { type Ears, ears } from "./ears";
import { type CheckName, checkNames, type Finding, joinedByLine } from "./finding";
import { innerGaps } from "./fit/innerGaps";
import { type InnerSurface, innerSurface } from "./fit/innerSurface";
import { type Gap, gap } from "./gap";
import { type HeadTurning, headTurning } from "./headTurning";
import { type Heat, heat } from "./heat";
import { type Sharp, sharp } from "./sharp";
import { type Sight, sight } from "./sight";
import { type StayOn, stayOn } from "./stayOn";
import { type Strength, strength } from "./strength";
import { type KnownFit, type Sureness, sureness } from "./sureness";
import { type Verdict, verdictOf } from "./verdict";
import { type WayOn, wayOn } from "./wayOn";
import { type Weight, weight } from "./weight";
import type { WornHead } from "./wornHead";
import type { WornPiece } from "./wornPiece";

/** The answers to the questions of fit and wear. One that could not be had is absent; its finding says why. */
export interface WearAnswers {
  readonly gap?: Gap;
  readonly wayOn?: WayOn;
  readonly stayOn?: StayOn;
  readonly sureness?: Sureness;
  readonly weight?: Weight;
  readonly sight?: SightAndEars;
  readonly sharp?: Sharp;
  readonly strength?: Strength;
  readonly heat?: Heat;
}

/** *Can she see, hear, turn her head?* */
export interface SightAndEars {
  readonly sight: Sight;
  readonly ears: Ears;
  readonly headTurning: HeadTurning;
  readonly findings: readonly Finding[];
}

/** One question answered. */
export interface WearAnswer {
  readonly check: CheckName;
  /** Its own part of `WearAnswers`. */
  readonly answers: WearAnswers;
  readonly findings: readonly Finding[];
  /** With the gap: at each vertex of the solid the distance to the bare head; see `innerGaps`. */
  readonly innerGaps?: Int16Array;
}

/** All that was found about fit and wear. */
export interface Wear {
  readonly answers: WearAnswers;
  /** In the order of the checks, in each the gravest first. */
  readonly findings: readonly Finding[];
  readonly verdict: Verdict;
  /** The limits that it was held against. */
  readonly limits: Limits;
}

/**
 * Answers all questions of fit and wear and comes to a verdict.
 * @param tell told each answer as soon as it is there
 * @param arms the piece's arms on that head, where they are known already
 */
export function wear(
  piece: WornPiece,
  head: WornHead,
  limits: Limits,
  tell?: (answer: WearAnswer) => void,
  arms?: () => ArmStrength,
): Wear {
  let answers: WearAnswers = {};
  const findings: Finding[] = [];
  for (const answer of wearAnswers(piece, head, limits, arms)) {
    answers = { ...answers, ...answer.answers };
    findings.push(...answer.findings);
    tell?.(answer);
  }
  findings.sort(
    (a, b) =>
      checkNames.indexOf(a.check) - checkNames.indexOf(b.check) || ranks[a.severity] - ranks[b.severity],
  );
  return { answers, findings, verdict: verdictOf(findings), limits };
}

const ranks = { error: 0, warning: 1, note: 2 } as const;

/** Answers the questions of fit and wear, one after the other, the quick and the most asked first. */
export function* wearAnswers(
  piece: WornPiece,
  head: WornHead,
  limits: Limits,
  arms?: () => ArmStrength,
): Generator<WearAnswer> {
  let known: InnerSurface | undefined;
  const inner = () => {
    known ??= innerSurface(piece, head);
    return known;
  };
  const fit: { -readonly [Answer in keyof KnownFit]?: KnownFit[Answer] } = {};
  yield answered("gap", () => {
    const found = gap(piece, head, limits, inner());
    fit.gap = found;
    return { answers: { gap: found }, findings: found.findings, innerGaps: innerGaps(piece, inner()) };
  });
  yield answered("weight", () => alone("weight", weight(piece, head, limits)));
  yield answered("heat", () => alone("heat", heat(piece.material, limits)));
  yield answered("wayOn", () => {
    fit.wayOn = wayOn(piece, head, limits);
    return alone("wayOn", fit.wayOn);
  });
  yield answered("stayOn", () => {
    fit.stayOn = stayOn(piece, head, limits, inner());
    return alone("stayOn", fit.stayOn);
  });
  yield answered("sight", () => {
    const found = [
      sight(piece, head, limits),
      ears(piece, head, limits),
      headTurning(piece, head, limits),
    ] as const;
    const findings = found.flatMap((one) => one.findings);
    return alone("sight", { sight: found[0], ears: found[1], headTurning: found[2], findings });
  });
  yield answered("sharp", () => alone("sharp", sharp(piece, head, limits)));
  yield answered("strength", () => alone("strength", strength(piece, head, limits, piece.printUp, arms?.())));
  yield answered("sureness", () => {
    const found = isWhole(fit) ? sureness(piece, head, limits, inner(), fit) : undefined;
    return found ? alone("sureness", found) : { answers: {}, findings: [] };
  });
}

const isWhole = (fit: Partial<KnownFit>): fit is KnownFit =>
  fit.gap !== undefined && fit.wayOn !== undefined && fit.stayOn !== undefined;

const alone = <K extends CheckName>(check: K, found: NonNullable<WearAnswers[K]>) => ({
  answers: { [check]: found } as WearAnswers,
  findings: found.findings,
});

/** A check that goes wrong takes nothing from the others: what it says is that it has no answer. */
function answered(check: CheckName, answer: () => Omit<WearAnswer, "check">): WearAnswer {
  try {
    const { findings, ...rest } = answer();
    return { check, ...rest, findings: joinedByLine(findings) };
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    const finding: Finding = {
      id: "no-answer",
      check,
      severity: "warning",
      text: `${questions[check]} could not be answered: ${why}`,
      suggestion: "look at it yourself; and tell the makers of the tool",
      value: 0,
      unit: "",
    };
    return { check, answers: {}, findings: [finding] };
  }
}

/** The questions, as titles. */
export const questions: Readonly<Record<CheckName, string>> = {
  gap: "Fit",
  wayOn: "Way on",
  stayOn: "Hold",
  sureness: "How sure",
  weight: "Weight",
  sight: "Sight and ears",
  sharp: "Sharp and small",
  strength: "Strength",
  heat: "Heat",
};
