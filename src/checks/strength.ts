import type { Part } from "../design/part";
import type { Vec3 } from "../geometry/vector";
import type { Limits } from "../wearLimits";
import { ArmStrength } from "./beams/armStrength";
import { lensDistance, type Neck, type NecksFound, necksOf } from "./beams/necks";
import { skeletonOf } from "./beams/skeleton";
import { type ThinWall, thinWallsOf } from "./beams/thinWalls";
import { designedUp, type FreeArm, type LoadedArm } from "./beams/worstSection";
import { atPart, type Finding, partNotes } from "./finding";
import type { WornHead } from "./wornHead";
import type { WornPiece } from "./wornPiece";

/** Where two parts grow together. */
export interface NeckFigures {
  readonly parts: readonly [string, string];
  /** Least width of what joins them, mm, and its area, mm². */
  readonly width: number;
  readonly area: number;
  readonly at: Vec3;
}

/** *Will it snap?* */
export interface Strength {
  /** Arms that are held at one end only, the weakest first. */
  readonly arms: readonly FreeArm[];
  readonly weakest?: FreeArm;
  readonly necks: {
    /** Places in which two parts meet. */
    readonly count: number;
    /** Of all parts, each with the widest neck that holds it, the one that is held by the least. */
    readonly thinnest?: NeckFigures;
    /** Of parts that hang by necks thinner than the limit, what holds each. */
    readonly thin: readonly NeckFigures[];
  };
  readonly walls: {
    /** Thickness of the thinnest wall below the limit, mm; absent where there is none. */
    readonly least?: number;
    readonly at?: Vec3;
    /** Area of walls thinner than the limit, mm². */
    readonly thinArea: number;
  };
  /** What the figures rest on. */
  readonly basis: string;
  readonly findings: readonly Finding[];
}

/** A smaller thin place than this is none to speak of, mm². */
const leastThinArea = 4;

/**
 * Answers *will it snap?*: every free arm as a cantilever of varying section under a load of the hand at its far end and
 * under one that drops or catches; the necks between parts; thin walls.
 * @param up the direction of the piece that looks up when it is printed, a unit vector in the head frame
 * @param model the same piece's arms, where they are known
 */
export function strength(
  piece: WornPiece,
  head: WornHead,
  limits: Limits,
  up: Vec3 = designedUp,
  model: ArmStrength = armStrength(piece, head, limits),
): Strength {
  const { skeleton } = model;
  const arms = model.arms({ up, fill: piece.print });
  const necks = necksOf(skeleton, piece, limits.neckWidth.value);
  const walls = thinWallsOf(piece, limits.wallThickness.value);
  // An arm holds by its own section at the root, whatever else covers the line where it comes out.
  const rootNecks = arms.flatMap(({ root }) => root ?? []);
  const thinnest = [necks.thinnest ?? [], ...rootNecks]
    .flat()
    .reduce<Neck | undefined>(
      (least, neck) => (least && least.width <= neck.width ? least : neck),
      undefined,
    );
  const thinWall = walls.reduce<ThinWall | undefined>(
    (least, wall) => (least && least.least <= wall.least ? least : wall),
    undefined,
  );
  return {
    arms: arms.map(({ arm }) => arm),
    ...(arms.length > 0 && { weakest: arms[0].arm }),
    necks: {
      count: necks.count,
      ...(thinnest && { thinnest: figuresOf(thinnest, piece.parts) }),
      thin: necks.thin.map(({ neck }) => figuresOf(neck, piece.parts)),
    },
    walls: {
      ...(thinWall && { least: thinWall.least, at: thinWall.at }),
      thinArea: walls.reduce((sum, { area }) => sum + area, 0),
    },
    basis: basisOf(piece, up),
    findings: [
      ...armFindings(arms, piece, limits),
      ...neckFindings(necks, piece.parts, limits),
      ...wallFindings(walls, piece.parts, limits),
    ],
  };
}

/** The arms of a piece under the loads of the limits, for any direction of printing and any filling. */
export const armStrength = (piece: WornPiece, head: WornHead, limits: Limits): ArmStrength =>
  new ArmStrength(skeletonOf(piece, head.grown), piece, {
    handling: limits.handlingLoad.value,
    snag: limits.snagLoad.value,
    layerStrength: limits.layerStrength.value / 100,
  });

const figuresOf = ({ first, second, width, area, at }: Neck, parts: readonly Part[]): NeckFigures => ({
  parts: [parts[first].name, parts[second].name],
  width,
  area,
  at,
});

function basisOf({ material, print }: WornPiece, up: Vec3): string {
  return (
    `Bending of straight beams under a slow load, in the direction that is worst; printed ${standing(up)}, in fresh ` +
    `dry ${material.name} of ${rounded(material.strength)} MPa; ${print.shells} ` +
    `${print.shells === 1 ? "shell" : "shells"} of ${print.lineWidth} mm on every side, ${print.infill} % infill counted ` +
    "by its share, which favours it a little; notches, blows, heat and wear are not in it, nor are cuts, nor what lies on " +
    "the head or is held at both ends."
  );
}

/** How a piece stands when it is printed, as a sentence has it. */
function standing([x, y, z]: Vec3): string {
  const tilt = Math.round((Math.atan2(Math.hypot(x, y), z) * 180) / Math.PI);
  if (tilt === 0) return "upright, as designed";
  if (tilt === 180) return "upside down";
  const side = Math.abs(x) > Math.abs(y) ? (x > 0 ? "right side" : "left side") : y > 0 ? "front" : "back";
  return `tilted by ${tilt}° from upright, its ${side} up`;
}

function armFindings(arms: readonly LoadedArm[], piece: WornPiece, limits: Limits): Finding[] {
  const { safetyFactor, snagLoad } = limits;
  const weak = arms.filter(({ arm }) => arm.factor < safetyFactor.value);
  const findings = weak.map((loaded) => weakArm(loaded, piece.parts, limits));
  const caught = arms.filter(({ arm }) => arm.factor >= safetyFactor.value && arm.snagFactor < 1);
  if (caught.length > 0) {
    const [{ arm, growthFor }, ...others] = caught;
    const part = piece.parts[arm.index];
    const bears = arm.factor * arm.load;
    const growth = growthFor(snagLoad.value / arm.load);
    const more = others.length > 0 ? `, and so do ${counted(others.length, "other", "others")}` : "";
    findings.push({
      id: "arm-breaks-when-caught",
      check: "strength",
      severity: "note",
      text:
        `"${arm.part}" breaks when it catches or drops on its tip with more than ${rounded(bears)} N, ` +
        `${fromRoot(arm)}${more}`,
      suggestion: `${thicker(arm, growth, part)}, or handle it by what it stands on`,
      value: bears,
      unit: "N",
      limit: { name: "snagLoad", value: snagLoad.value, source: snagLoad.source },
      at: arm.at,
      ...atPart(part),
      notes: partNotes(
        others.map(({ arm }) => piece.parts[arm.index]),
        (other) => `"${other.name}" breaks below ${rounded(snagLoad.value)} N as well`,
      ),
    });
  }
  return findings;
}

function weakArm({ arm, growthFor }: LoadedArm, parts: readonly Part[], limits: Limits): Finding {
  const { safetyFactor } = limits;
  const part = parts[arm.index];
  const breaks = arm.factor < 1;
  const lever = arm.moment / arm.load;
  const load = `${rounded(arm.load)} N across its tip, ${rounded(lever)} mm away, `;
  return {
    id: breaks ? "arm-breaks" : "arm-weak",
    check: "strength",
    severity: "warning",
    text:
      `"${arm.part}" ${breaks ? "snaps in the hand" : "is easily snapped"}: ${load}` +
      `bend it with ${rounded(arm.stress)} MPa ${fromRoot(arm)}, ` +
      `where it bears ${rounded(arm.stress * arm.factor)} MPa (a factor of ${roundedDown(arm.factor)})`,
    suggestion: `${thicker(arm, growthFor(safetyFactor.value), part)}, or brace it against a neighbour`,
    value: arm.factor,
    unit: "",
    limit: { name: "safetyFactor", value: safetyFactor.value, source: safetyFactor.source },
    at: arm.at,
    ...atPart(part),
  };
}

const fromRoot = ({ fromRoot }: FreeArm): string =>
  fromRoot < 0.5 ? "at its root" : `${rounded(fromRoot)} mm from its root`;

/** What to do about a section that is too weak. */
function thicker(arm: FreeArm, growth: number, part: Part): string {
  const round = part.kind === "tube" && part.shape.section.kind === "circle";
  return round
    ? `make its radius there ${roundedUp(arm.radius * growth)} mm (it is ${rounded(arm.radius)} mm)`
    : `make it ${roundedUp(growth)} times as thick there (half its least width is ${rounded(arm.radius)} mm)`;
}

function neckFindings({ thin }: NecksFound, parts: readonly Part[], limits: Limits): Finding[] {
  const { neckWidth } = limits;
  return thin.map(({ part: index, neck }): Finding => {
    const part = parts[index];
    const other = parts[neck.first === index ? neck.second : neck.first];
    return {
      id: "thin-neck",
      check: "strength",
      severity: "warning",
      text: `"${part.name}" hangs on "${other.name}" by a neck of ${rounded(neck.width)} mm`,
      suggestion: widen(neck, index, part, neckWidth.value),
      value: neck.width,
      unit: "mm",
      limit: { name: "neckWidth", value: neckWidth.value, source: neckWidth.source },
      at: neck.at,
      ...atPart(part),
      notes: partNotes([other], ({ name }) => `"${name}" is what it hangs on`),
    };
  });
}

function widen({ lens, first, halfWidths }: Neck, index: number, part: Part, wanted: number): string {
  const half = wanted / 2;
  const own = halfWidths[first === index ? 0 : 1];
  if (own !== undefined && own < half) {
    return `make "${part.name}" ${roundedUp(wanted)} mm thick there (it is ${rounded(2 * own)} mm), sunk in by as much`;
  }
  if (lens && Math.min(...lens.radii) >= half) {
    const deeper = lens.apart - lensDistance(lens.radii[0], lens.radii[1], half);
    if (deeper > 0) {
      return `sink it ${roundedUp(deeper)} mm deeper: then they grow together ${rounded(wanted)} mm wide`;
    }
  }
  return `sink it deeper, until they grow together ${rounded(wanted)} mm wide`;
}

function wallFindings(walls: readonly ThinWall[], parts: readonly Part[], limits: Limits): Finding[] {
  const { wallThickness } = limits;
  const thin = walls.filter(({ area }) => area > leastThinArea);
  return thin.map(({ part: index, least, area, at, hollowed }): Finding => {
    const part = parts[index];
    return {
      id: "thin-wall",
      check: "strength",
      severity: "warning",
      text:
        `${part ? `a wall of "${part.name}"` : "a wall"} is ${rounded(least)} mm thin at its thinnest, ` +
        `and too thin to print well over ${rounded(area)} mm²`,
      suggestion:
        hollowed > 0.5
          ? "the hollow of the head or a cut leaves no more of it: move it away from there, or let it end before"
          : `make it at least ${rounded(wallThickness.value)} mm thick, or close the gap beside it`,
      value: least,
      unit: "mm",
      limit: { name: "wallThickness", value: wallThickness.value, source: wallThickness.source },
      at,
      ...atPart(part),
    };
  });
}

const counted = (n: number, one: string, many: string): string => `${n} ${n === 1 ? one : many}`;

/** A number as a sentence has it: two digits, whole from ten on. */
const rounded = (value: number): string =>
  value >= 10 ? String(Math.round(value)) : String(Number(value.toPrecision(2)));

/** A factor as a sentence has it, never more than it is: one short of a limit must not read as the limit. */
const roundedDown = (value: number): string => String(Math.floor(value * 100 + 1e-9) / 100);

/** A size as a sentence has it, never less than it is: what is asked for must be enough. */
const roundedUp = (value: number): string => String(Math.ceil(value * 10 - 1e-9) / 10);
