import { HeadFamily } from "../head/headFamily";
import { type DrawnHeads, type HeadsModel, surveyModel } from "../head/headsModel";
import { errorOf, type KnownHead } from "../head/knownHead";
import { DRAWN_FIELDS, type DrawnField } from "../head/surveyedHeads";
import type { Limits } from "../wearLimits";
import type { InnerSurface } from "./fit/innerSurface";
import type { Gap } from "./gap";
import type { StayOn } from "./stayOn";
import { expectedHelp } from "./sureness/expectedHelp";
import { fitShares, spreadOf } from "./sureness/fitShares";
import { fittedPiece } from "./sureness/fittedPiece";
import { HeadJudge } from "./sureness/headJudge";
import { surenessFindings } from "./sureness/surenessFindings";
import type { Sureness } from "./sureness/surenessResult";
import type { WayOn } from "./wayOn";
import type { WornHead } from "./wornHead";
import type { WornPiece } from "./wornPiece";

export type { Sureness } from "./sureness/surenessResult";

/** What the full checks say of the piece on the head that it was made for. */
export interface KnownFit {
  readonly gap: Gap;
  readonly wayOn: WayOn;
  readonly stayOn: StayOn;
}

/** Heads that are drawn: the chance is then known to 2 in 100. */
const mostDraws = 400;
const seed = 20_121;
/** A chance above this is not to be bettered by measuring. */
const sureEnough = 0.97;
/** A measure helps where the chance rises by more than this. */
const leastHelp = 0.02;

/**
 * Answers *how sure is the fit?*: the share of the heads that she may have, given what was measured and how well, on
 * which the piece goes on and rests as it should. Heads are drawn from the open data of ANSUR II, correlated and seeded
 * (`HeadsModel`); each is judged by a light judge (`HeadJudge`, where it is said what fits). Undefined where nothing of
 * the piece faces the head.
 */
export function sureness(
  piece: WornPiece,
  head: WornHead,
  limits: Limits,
  inner: InnerSurface,
  found: KnownFit,
  model: () => HeadsModel = surveyModel,
): Sureness | undefined {
  const { known } = head;
  if (!known || unsureFields(known).length === 0) return exactAnswer(found, limits);
  const way = found.wayOn.ways[found.wayOn.best];
  const fitted = fittedPiece(piece, head, inner, way?.off);
  if (!fitted) return undefined;
  const unsure = unsureFields(known).filter((field) => fitted.isNearEars || !ofEars.includes(field));
  if (unsure.length === 0) return exactAnswer(found, limits);
  const heads = model().draw(known, mostDraws, seed);
  const spread = spreadOf(heads);
  const varied = Object.fromEntries(unsure.map((field) => [field, spread[field]]));
  const family = new HeadFamily(known.measurements, varied, ...fitted.elevations);
  const judge = new HeadJudge(fitted, family, head.room, limits);
  const own = family.head((field) => known.measurements[field] ?? 0);
  judge.correct(own, {
    play: found.gap.play?.girth,
    tooSmallPressed: way?.tooSmallPressed ?? 0,
    tooSmallBare: way?.tooSmallBare ?? 0,
  });
  const isFitOnHers = judge.fit(own, 0) === "fits";
  const { fits: chance, tight, loose } = fitShares(judge, family, heads, known.measurements.crownHeight);
  const helps = chance < sureEnough ? bestHelp(chance, known, heads, family, judge) : undefined;
  const answer = {
    chance,
    draws: heads.count,
    tooTight: tight,
    tooLoose: loose,
    unsure,
    ...(helps && { helps }),
  };
  return { ...answer, findings: surenessFindings(answer, known, isFitOnHers, limits) };
}

/** Measures of a head that matter for its fit and are not exact. */
export const unsureFields = (known: KnownHead): DrawnField[] =>
  DRAWN_FIELDS.filter((field) => (errorOf(known, field) ?? Infinity) > 0);

const ofEars: readonly DrawnField[] = ["earLength", "earProtrusion"];

/** With every measure exact there is nothing to draw: what the full checks say is how it is. */
function exactAnswer({ gap, wayOn, stayOn }: KnownFit, limits: Limits): Sureness {
  const play = gap.play?.girth;
  const tooLoose = play !== undefined && play > limits.girthPlayMost.value;
  const tooTight =
    (play !== undefined && play < limits.girthPlayLeast.value) ||
    (gap.entering[0]?.depth ?? 0) > limits.entering.value ||
    !(wayOn.passes || wayOn.passesPressed) ||
    (!tooLoose && !stayOn.rests);
  return {
    chance: tooTight || tooLoose ? 0 : 1,
    draws: 0,
    tooTight: tooTight ? 1 : 0,
    tooLoose: tooLoose && !tooTight ? 1 : 0,
    unsure: [],
    findings: [],
  };
}

function bestHelp(
  chance: number,
  known: KnownHead,
  heads: DrawnHeads,
  family: HeadFamily,
  judge: HeadJudge,
): Sureness["helps"] {
  const { without, helps } = expectedHelp(known, heads, family, judge);
  const [best] = helps;
  if (!best || best.chance - without < leastHelp) return undefined;
  return { field: best.field, chance: Math.min(1, chance + best.chance - without) };
}
