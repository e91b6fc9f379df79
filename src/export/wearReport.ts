import type { Finding } from "../checks/finding";
import type { Gap, GapFigures } from "../checks/gap";
import { wayInWords, wayName } from "../checks/passage/wayOnWords";
import type { Sharp } from "../checks/sharp";
import type { StayOn } from "../checks/stayOn";
import type { Strength } from "../checks/strength";
import type { Sureness } from "../checks/sureness";
import type { VerdictWord } from "../checks/verdict";
import type { WayOn } from "../checks/wayOn";
import type { SightAndEars, Wear, WearAnswers } from "../checks/wear";
import type { Weight } from "../checks/weight";
import { limitNames } from "../wearLimits";
import { orderedKeys, rounded } from "./rounding";
import { seenDegrees } from "./sightPlot";

/** Least, p5, median and p95 of a gap, mm. */
export interface ReportGapFigures {
  readonly leastMm: number;
  readonly p5Mm: number;
  readonly medianMm: number;
  readonly p95Mm: number;
}

/** Fit and wear in a report: keys carry units, values are rounded; an answer that could not be had is absent. */
export interface ReportWear {
  readonly verdict: VerdictWord;
  readonly reasons: readonly string[];
  readonly gap?: {
    readonly innerAreaCm2: number;
    readonly toBareHead?: ReportGapFigures;
    readonly toHair?: ReportGapFigures;
    readonly toGrownHead?: ReportGapFigures;
    readonly restingShare: number;
    readonly sides: readonly {
      readonly side: string;
      readonly areaCm2: number;
      readonly leastMm: number;
      readonly medianMm: number;
      readonly restingShare: number;
    }[];
    readonly entering: readonly { readonly part: string; readonly depthMm: number; readonly side: string }[];
    readonly girthPlayMm?: number;
    readonly hatSizes?: number;
  };
  readonly wayOn?: {
    readonly passes: boolean;
    readonly passesOverHair: boolean;
    /** How it is put on, in words. */
    readonly best: string;
    readonly ways: readonly {
      readonly way: string;
      readonly tooSmallMm: number;
      readonly tooSmallOverHairMm: number;
      readonly roomMm: number;
      readonly tightest: string;
      readonly parts: readonly string[];
    }[];
    readonly opening?: {
      readonly side: string;
      readonly widthMm: number;
      readonly fromMm: number;
      readonly toMm: number;
    };
  };
  readonly stayOn?: {
    readonly rests: boolean;
    readonly settlesMm: number;
    readonly inBalance: boolean;
    readonly friction: number;
    readonly contacts: readonly { readonly part: string; readonly side: string; readonly share: number }[];
    readonly nodForwardDegrees: number;
    readonly nodBackDegrees: number;
    readonly tiltLeftDegrees: number;
    readonly tiltRightDegrees: number;
    readonly aids: readonly { readonly aid: string; readonly forceN: number }[];
    readonly caveat: string;
  };
  readonly sureness?: {
    /** That it goes on and rests, 0 to 1. */
    readonly chance: number;
    /** Heads that were drawn; 0 where every measure that matters is exact. */
    readonly draws: number;
    readonly tooTightShare: number;
    readonly tooLooseShare: number;
    /** Measures that are estimated or taken with a tolerance. */
    readonly unsure: readonly string[];
    /** The one more measure that would help most, and the chance that is then expected. */
    readonly helps?: { readonly measure: string; readonly chance: number };
  };
  readonly weight?: {
    readonly massG: number;
    readonly momentLevelNCm: number;
    readonly momentNoddedNCm: number;
    readonly forwardOfJointMm: number;
    readonly aboveJointMm: number;
    readonly caveats: readonly string[];
  };
  readonly sight?: {
    readonly coveredShare: { readonly left: number; readonly right: number; readonly both: number };
    /** From straight ahead to the first cover, at most to the border of the normal field. */
    readonly freeDegrees: {
      readonly left: number;
      readonly right: number;
      readonly up: number;
      readonly down: number;
    };
    readonly earsCoveredShare: { readonly left: number; readonly right: number };
    readonly headRoomDegrees: Readonly<Record<string, number>>;
  };
  readonly sharp?: {
    readonly sharpestTipMm?: number;
    readonly tips: number;
    readonly sharpEdgeMm: number;
    readonly smallParts: number;
  };
  readonly strength?: {
    readonly arms: readonly {
      readonly part: string;
      readonly lengthMm: number;
      readonly loadN: number;
      readonly stressMPa: number;
      readonly fromRootMm: number;
      readonly factorAlongLayers: number;
      readonly factorAcrossLayers: number;
      readonly factor: number;
    }[];
    readonly thinnestNeckMm?: number;
    readonly thinnestNeckParts?: readonly string[];
    /** The thinnest wall below the limit, and the area of all such. */
    readonly thinWallMm?: number;
    readonly thinWallMm2?: number;
    readonly basis: string;
  };
  readonly heat?: { readonly softensFromC: number; readonly softensToC: number; readonly parkedCarC: number };
  /** Limits that somebody set, by name. */
  readonly limitsSet: Readonly<Record<string, { readonly value: number; readonly by: string }>>;
  readonly findings: readonly Finding[];
}

/** What a report says of fit and wear. */
export function composeWear({ answers, findings, verdict, limits }: Wear): ReportWear {
  const set = limitNames.flatMap((name) => {
    const { value, source } = limits[name];
    return source.startsWith("set by ")
      ? [[name, { value, by: source.slice("set by the ".length) }] as const]
      : [];
  });
  return {
    verdict: verdict.word,
    reasons: [...verdict.reasons],
    ...composeAnswers(answers),
    limitsSet: Object.fromEntries(set),
    findings: findings.map(orderedFinding),
  };
}

/** The answers that are there, rounded. */
export function composeAnswers({
  gap,
  wayOn,
  stayOn,
  sureness,
  weight,
  sight,
  sharp,
  strength,
  heat,
}: WearAnswers): Omit<ReportWear, "verdict" | "reasons" | "limitsSet" | "findings"> {
  return {
    ...(gap && { gap: gapOf(gap) }),
    ...(wayOn && { wayOn: wayOnOf(wayOn) }),
    ...(stayOn && { stayOn: stayOnOf(stayOn) }),
    ...(sureness && { sureness: surenessOf(sureness) }),
    ...(weight && { weight: weightOf(weight) }),
    ...(sight && { sight: sightOf(sight) }),
    ...(sharp && { sharp: sharpOf(sharp) }),
    ...(strength && { strength: strengthOf(strength) }),
    ...(heat && {
      heat: { softensFromC: heat.softening[0], softensToC: heat.softening[1], parkedCarC: heat.car },
    }),
  };
}

const figuresOf = ({ least, p5, median, p95 }: GapFigures): ReportGapFigures => ({
  leastMm: rounded(least, 1),
  p5Mm: rounded(p5, 1),
  medianMm: rounded(median, 1),
  p95Mm: rounded(p95, 1),
});

const gapOf = ({
  innerArea,
  bare,
  haired,
  grown,
  resting,
  sides,
  entering,
  play,
}: Gap): ReportWear["gap"] => ({
  innerAreaCm2: rounded(innerArea / 100, 1),
  ...(bare && { toBareHead: figuresOf(bare) }),
  ...(haired && { toHair: figuresOf(haired) }),
  ...(grown && { toGrownHead: figuresOf(grown) }),
  restingShare: rounded(resting, 2),
  sides: sides.map((side) => ({
    side: side.side,
    areaCm2: rounded(side.area / 100, 1),
    leastMm: rounded(side.least, 1),
    medianMm: rounded(side.median, 1),
    restingShare: rounded(side.resting, 2),
  })),
  entering: entering.map(({ part, depth, side }) => ({ part, depthMm: rounded(depth, 2), side })),
  ...(play && { girthPlayMm: rounded(play.girth, 1), hatSizes: rounded(play.hatSizes, 1) }),
});

const wayOnOf = ({ passes, passesPressed, ways, best, opening }: WayOn): ReportWear["wayOn"] => ({
  passes,
  passesOverHair: passesPressed,
  best: ways[best] ? wayInWords(ways[best]) : "",
  ways: ways.map((way) => ({
    way: wayName(way),
    tooSmallMm: rounded(way.tooSmallBare, 1),
    tooSmallOverHairMm: rounded(way.tooSmallPressed, 1),
    roomMm: rounded(way.roomBare, 1),
    tightest: way.place,
    parts: [...way.parts],
  })),
  ...(opening && {
    opening: {
      side: opening.side,
      // What is cut must be enough.
      widthMm: Math.ceil(opening.width),
      fromMm: rounded(opening.zFrom, 0),
      toMm: rounded(opening.zTo, 0),
    },
  }),
});

/** Contacts are told together by part and side. */
function stayOnOf(found: StayOn): ReportWear["stayOn"] {
  const { rests, settled, inBalance, friction, contacts, angles, aids, caveat } = found;
  const shares = new Map<string, { part: string; side: string; share: number }>();
  for (const { part, side, share } of contacts) {
    const key = `${part}\n${side}`;
    const known = shares.get(key);
    if (known) known.share += share;
    else shares.set(key, { part, side, share });
  }
  return {
    rests,
    settlesMm: rounded(settled.travel, 1),
    inBalance,
    friction: rounded(friction, 3),
    contacts: [...shares.values()]
      .sort((a, b) => b.share - a.share)
      .map(({ part, side, share }) => ({ part, side, share: rounded(share, 2) })),
    nodForwardDegrees: rounded(angles.forward.degrees, 0),
    nodBackDegrees: rounded(angles.back.degrees, 0),
    tiltLeftDegrees: rounded(angles.left.degrees, 0),
    tiltRightDegrees: rounded(angles.right.degrees, 0),
    aids: aids.map(({ words, force, needs }) => ({ aid: words, forceN: rounded(needs ?? force, 1) })),
    caveat,
  };
}

const surenessOf = ({
  chance,
  draws,
  tooTight,
  tooLoose,
  unsure,
  helps,
}: Sureness): ReportWear["sureness"] => ({
  chance: rounded(chance, 2),
  draws,
  tooTightShare: rounded(tooTight, 2),
  tooLooseShare: rounded(tooLoose, 2),
  unsure: [...unsure],
  ...(helps && { helps: { measure: helps.field, chance: rounded(helps.chance, 2) } }),
});

const weightOf = ({
  mass,
  momentLevel,
  momentNodded,
  centre,
  joint,
  caveats,
}: Weight): ReportWear["weight"] => ({
  massG: rounded(mass, 1),
  momentLevelNCm: rounded(momentLevel, 1),
  momentNoddedNCm: rounded(momentNodded, 1),
  forwardOfJointMm: rounded(centre[1] - joint[1], 0),
  aboveJointMm: rounded(centre[2] - joint[2], 0),
  caveats: [...caveats],
});

const sightOf = ({ sight, ears, headTurning }: SightAndEars): ReportWear["sight"] => ({
  coveredShare: {
    left: rounded(sight.covered.left, 3),
    right: rounded(sight.covered.right, 3),
    both: rounded(sight.covered.both, 3),
  },
  freeDegrees: {
    left: rounded(seenDegrees(sight, "left"), 0),
    right: rounded(seenDegrees(sight, "right"), 0),
    up: rounded(seenDegrees(sight, "up"), 0),
    down: rounded(seenDegrees(sight, "down"), 0),
  },
  earsCoveredShare: { left: rounded(ears.left.covered, 2), right: rounded(ears.right.covered, 2) },
  headRoomDegrees: Object.fromEntries(
    headTurning.motions.map(({ motion, free }) => [motion, rounded(free, 0)]),
  ),
});

const sharpOf = ({ tips, edges, smallParts }: Sharp): ReportWear["sharp"] => ({
  ...(tips.length > 0 && { sharpestTipMm: rounded(tips[0].radius, 2) }),
  tips: tips.length,
  sharpEdgeMm: rounded(
    edges.reduce((sum, { length }) => sum + length, 0),
    0,
  ),
  smallParts: smallParts.length,
});

/** Arms that a report has; the weakest first. */
const mostArms = 12;

const strengthOf = ({ arms, necks, walls, basis }: Strength): ReportWear["strength"] => ({
  arms: arms.slice(0, mostArms).map((arm) => ({
    part: arm.part,
    lengthMm: rounded(arm.length, 0),
    loadN: rounded(arm.load, 1),
    stressMPa: rounded(arm.stress, 1),
    fromRootMm: rounded(arm.fromRoot, 0),
    factorAlongLayers: rounded(arm.factorAlong, 1),
    factorAcrossLayers: rounded(arm.factorAcross, 1),
    factor: rounded(arm.factor, 1),
  })),
  ...(necks.thinnest && {
    thinnestNeckMm: rounded(necks.thinnest.width, 1),
    thinnestNeckParts: [...necks.thinnest.parts],
  }),
  ...(walls.least !== undefined && {
    thinWallMm: rounded(walls.least, 2),
    thinWallMm2: rounded(walls.thinArea, 0),
  }),
  basis,
});

const findingKeys = [
  "id",
  "check",
  "severity",
  "text",
  "suggestion",
  "value",
  "unit",
  "limit",
  "at",
  "part",
  "file",
  "line",
  "column",
  "length",
  "notes",
] as const;

/** The same finding with its keys in one order, rounded. */
function orderedFinding(finding: Finding): Finding {
  return {
    ...orderedKeys(finding, findingKeys),
    value: rounded(finding.value, 2),
    ...(finding.at && { at: finding.at.map((value) => rounded(value, 1)) as unknown as Finding["at"] & {} }),
  };
}
