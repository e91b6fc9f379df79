import { type CheckName, checkNames, type Finding } from "../checks/finding";
import { questions } from "../checks/wear";
import { measureName } from "../head/measurementChecks";
import type { MeasureField } from "../head/measurements";
import type { ReportWear } from "./wearReport";

/** One question of fit and wear with its answer in one line. */
export interface WearLine {
  readonly check: CheckName;
  readonly label: string;
  readonly value: string;
  /** The gravest that was found: nothing, a note, a warning, an error. */
  readonly tone: "good" | "note" | "warning" | "bad";
}

type Answers = Partial<Omit<ReportWear, "verdict" | "reasons" | "limitsSet">>;

/** The answers that are there, a line each, in the order of the checks. */
export function wearLines(wear: Answers): WearLine[] {
  return checkNames.flatMap((check): WearLine[] => {
    const value = answerLine(check, wear);
    if (value === undefined) return [];
    return [{ check, label: questions[check], value, tone: toneOf(check, wear.findings ?? []) }];
  });
}

function toneOf(check: CheckName, findings: readonly Finding[]): WearLine["tone"] {
  const own = findings.filter((finding) => finding.check === check);
  if (own.some(({ severity }) => severity === "error")) return "bad";
  if (own.some(({ severity }) => severity === "warning")) return "warning";
  return own.length > 0 ? "note" : "good";
}

function answerLine(check: CheckName, wear: Answers): string | undefined {
  switch (check) {
    case "gap":
      return wear.gap && gapLine(wear.gap);
    case "wayOn":
      return wear.wayOn && wayOnLine(wear.wayOn);
    case "stayOn":
      return wear.stayOn && stayOnLine(wear.stayOn);
    case "sureness":
      return wear.sureness && surenessLine(wear.sureness);
    case "weight":
      return wear.weight && weightLine(wear.weight);
    case "sight":
      return wear.sight && sightLine(wear.sight);
    case "sharp":
      return wear.sharp && sharpLine(wear.sharp);
    case "strength":
      return wear.strength && strengthLine(wear.strength);
    case "heat":
      return wear.heat && heatLine(wear.heat);
  }
}

type Of<K extends keyof Answers> = NonNullable<Answers[K]>;

function gapLine({ toBareHead, girthPlayMm, hatSizes, restingShare, entering }: Of<"gap">): string {
  if (!toBareHead) return "nothing lies near the head";
  const { leastMm, medianMm, p95Mm } = toBareHead;
  const enters = entering[0] ? `enters the head by ${entering[0].depthMm} mm, ` : "";
  const play =
    girthPlayMm === undefined
      ? "no closed ring"
      : `girth play ${girthPlayMm} mm (${hatSizes} hat size${hatSizes === 1 ? "" : "s"})`;
  return `${enters}${play}, ${leastMm} to ${p95Mm} mm off the bare head (median ${medianMm}), ${percent(restingShare)} rests`;
}

function wayOnLine({ passes, passesOverHair, best, ways, opening }: Of<"wayOn">): string {
  if (!passes) {
    const [tightest] = [...ways].sort((a, b) => a.tooSmallMm - b.tooSmallMm);
    const small = tightest ? `${tightest.tooSmallMm} mm too small ${tightest.tightest}` : "no way was found";
    return `cannot be put on: ${small}${opening ? `; opens ${sidePlace(opening.side)} by ${opening.widthMm} mm` : ""}`;
  }
  return passesOverHair ? best : `${best}; tight over the hair`;
}

const sidePlace = (side: string): string =>
  side === "front" || side === "back" ? `at the ${side}` : `on the ${side}`;

function stayOnLine(found: Of<"stayOn">): string {
  const { inBalance, nodForwardDegrees, nodBackDegrees, tiltLeftDegrees, tiltRightDegrees } = found;
  if (!inBalance) return "does not stay on by itself";
  const side = Math.min(tiltLeftDegrees, tiltRightDegrees);
  return `holds to ${nodForwardDegrees}° forward, ${nodBackDegrees}° back, ${side}° to the side`;
}

function surenessLine({
  chance,
  draws,
  tooTightShare,
  tooLooseShare,
  unsure,
  helps,
}: Of<"sureness">): string {
  if (draws === 0) {
    return `every measure that matters was taken: ${chance === 1 ? "it fits" : "it does not fit as it is"}`;
  }
  const fails = [
    ...(tooTightShare > 0 ? [`too tight on ${percent(tooTightShare)}`] : []),
    ...(tooLooseShare > 0 ? [`too loose on ${percent(tooLooseShare)}`] : []),
  ];
  const but = fails.length > 0 ? ` (${fails.join(", ")})` : "";
  const words = unsure.map((field) => measureName(field as MeasureField));
  const next = helps
    ? `; with the ${measureName(helps.measure as MeasureField)} measured about ${percent(helps.chance)}`
    : "";
  return `goes on and rests on ${percent(chance)} of the heads it may be${but}; unsure: ${words.join(", ")}${next}`;
}

const weightLine = ({ massG, momentLevelNCm, momentNoddedNCm }: Of<"weight">): string =>
  `${massG} g, ${momentLevelNCm} N·cm about the neck joint, ${momentNoddedNCm} nodding`;

function sightLine({ coveredShare, freeDegrees, earsCoveredShare }: Of<"sight">): string {
  const { left, right, up, down } = freeDegrees;
  const ear = Math.max(earsCoveredShare.left, earsCoveredShare.right);
  return `${percent(coveredShare.both)} of the field covered; free ${left}° left, ${right}° right, ${up}° up, ${down}° down; ears ${ear > 0 ? `covered up to ${percent(ear)}` : "free"}`;
}

function sharpLine({ sharpestTipMm, sharpEdgeMm, smallParts }: Of<"sharp">): string {
  const tip = sharpestTipMm === undefined ? "no free tip" : `sharpest tip ${sharpestTipMm} mm in radius`;
  const edge = sharpEdgeMm > 0 ? `${sharpEdgeMm} mm of sharp edge` : "no sharp edge";
  return `${tip}, ${edge}, ${smallParts === 0 ? "no small part" : `${smallParts} small parts`} to come off`;
}

function strengthLine({ arms, thinnestNeckMm, thinWallMm }: Of<"strength">): string {
  const [weakest] = arms;
  const arm = weakest
    ? `weakest arm ${weakest.part}: ${weakest.factor} times strong enough for ${weakest.loadN} N`
    : "no free arm";
  const neck = thinnestNeckMm === undefined ? "" : `, thinnest neck ${thinnestNeckMm} mm`;
  const wall = thinWallMm === undefined ? ", no thin wall" : `, thinnest wall ${thinWallMm} mm`;
  return arm + neck + wall;
}

const heatLine = ({ softensFromC, softensToC, parkedCarC }: Of<"heat">): string =>
  `softens at ${softensFromC === softensToC ? softensFromC : `${softensFromC} to ${softensToC}`} °C; a parked car reaches ${parkedCarC} °C`;

const percent = (share: number): string => `${Math.round(share * 1000) / 10} %`;

/** A number with its unit as it is written: `30°`, `1.5 mm`, `2`. */
export const withUnit = (value: number, unit = ""): string =>
  unit === "" || unit === "°" ? `${value}${unit}` : `${value} ${unit}`;
