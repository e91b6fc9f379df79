import type { Part } from "../design/part";
import { addScaled, type Vec3 } from "../geometry/vector";
import { type LimitName, type Limits, limitDeclarations } from "../wearLimits";
import { atPart, type Finding, partNotes, quoted } from "./finding";
import { type Cover, coverFrom } from "./view/cover";
import {
  bothBorder,
  cellOf,
  couldSee,
  directionGrid,
  directionOfCell,
  type Eye,
  eyeBit,
  eyes,
  fieldBorder,
  fieldCells,
  sightReach,
} from "./view/visualField";
import type { WornHead } from "./wornHead";
import type { WornPiece } from "./wornPiece";

/** Where sight ends on one side, as the wearer sees it. */
export type SightSide = "left" | "right" | "up" | "down";

/** Meridians, degrees as the wearer sees them. */
const meridianOf: Readonly<Record<SightSide, number>> = { right: 0, up: 90, left: 180, down: 270 };
export const sightSides = ["left", "right", "up", "down"] as const satisfies readonly SightSide[];

/** From and to, degrees from straight ahead. */
export type Interval = readonly [from: number, to: number];

/** What is covered along one meridian: within each eye's border, and within that of both. */
export interface SightMeridian {
  /** Degrees as the wearer sees it: 0 right, 90 up, 180 left, 270 down. */
  readonly meridian: number;
  /** Where the normal field ends, degrees from straight ahead. */
  readonly border: Readonly<Record<Eye | "both", number>>;
  /** Nearest to straight ahead first. */
  readonly covered: Readonly<Record<Eye | "both", readonly Interval[]>>;
}

/** How much of the fields a part covers, as what comes first in a direction. */
export interface SightPart {
  readonly part: string;
  /** Share of each eye's field, 0 to 1. */
  readonly left: number;
  readonly right: number;
  /** Share of the field of both, 0 to 1: of directions in which neither eye sees past the piece, half for each eye. */
  readonly both: number;
}

/** *Can she see?* The piece alone covers; what head and brow cover is in the border of the field. */
export interface Sight {
  /** Where each eye sees from, mm, head frame. */
  readonly eyes: Readonly<Record<Eye, Vec3>>;
  /** Solid angle of the normal field, sr. */
  readonly field: Readonly<Record<Eye | "both", number>>;
  /** Share of that field which is covered, 0 to 1. */
  readonly covered: Readonly<Record<Eye | "both", number>>;
  /**
   * Degrees from straight ahead to the first direction in which no eye sees past the piece, 0 to 110. It is 110 where
   * there is none, and may lie beyond the border of the field: so does the yardstick for the sides.
   */
  readonly free: Readonly<Record<SightSide, number>>;
  /** The same on meridians every 15°. */
  readonly freeByMeridian: readonly { readonly meridian: number; readonly free: number }[];
  /** Every 5°, for the polar plot. */
  readonly plot: readonly SightMeridian[];
  /** Parts that cover, the one that covers most of both eyes' field first. */
  readonly parts: readonly SightPart[];
  readonly findings: readonly Finding[];
}

/** Steps along a meridian, degrees. */
const step = 0.25;
const steps = Math.round(sightReach / step);

/**
 * Answers *can she see?*: the share of the visual field that the piece covers, for each eye and both, by solid angle,
 * and how many degrees are free to each side, up and down. The pupil is taken on the surface of the lids, at the
 * landmark; eyes and head look straight ahead. A direction is covered for both eyes where no eye that could see it sees
 * past the piece; things are taken to be far, so that both look the same way.
 */
export function sight(piece: WornPiece, head: Pick<WornHead, "landmarks">, limits: Limits): Sight {
  const from = { left: head.landmarks.leftEye, right: head.landmarks.rightEye };
  const covers = { left: coverFrom(piece.mesh, from.left), right: coverFrom(piece.mesh, from.right) };
  const shares = coveredShares(piece, covers);
  const ends = sightSides.map((side) => firstCovered(piece, covers, meridianOf[side]));
  const answer: Omit<Sight, "findings"> = {
    eyes: from,
    field: shares.field,
    covered: shares.covered,
    free: { left: ends[0].free, right: ends[1].free, up: ends[2].free, down: ends[3].free },
    freeByMeridian: Array.from({ length: 24 }, (_, i) => {
      const meridian = 15 * i;
      return { meridian, free: firstCovered(piece, covers, meridian).free };
    }),
    plot: Array.from({ length: 72 }, (_, i) => plotMeridian(covers, 5 * i)),
    parts: shares.parts.map(({ part, left, right, both }) => ({ part: part.name, left, right, both })),
  };
  const findings = [
    ...sightSides.flatMap((side, i) => sideFinding(side, ends[i], limits)),
    ...shareFinding(shares, limits),
  ];
  return { ...answer, findings };
}

type Covers = Readonly<Record<Eye, Cover>>;

/** A part's share, with the place of it that is nearest to an eye. */
interface PartShare {
  readonly part: Part;
  left: number;
  right: number;
  both: number;
  nearness: number;
  at: Vec3;
}

interface Shares {
  readonly field: Record<Eye | "both", number>;
  readonly covered: Record<Eye | "both", number>;
  /** Most of both eyes' field first. */
  readonly parts: readonly PartShare[];
}

function coveredShares(piece: WornPiece, covers: Covers): Shares {
  const inField = fieldCells();
  const field = { left: 0, right: 0, both: 0 };
  const covered = { left: 0, right: 0, both: 0 };
  const parts = new Map<Part, PartShare>();
  const place = (eye: Eye, cell: number): Vec3 =>
    addScaled(covers[eye].from, directionOfCell(cell), 1 / covers[eye].nearness[cell]);
  const [left, right] = [covers.left.triangles, covers.right.triangles];
  for (let cell = 0; cell < inField.length; cell++) {
    const lookers = inField[cell];
    if (lookers === 0) continue;
    let blocked = 0;
    if ((lookers & eyeBit.left) !== 0) {
      field.left++;
      if (left[cell] >= 0) blocked |= eyeBit.left;
    }
    if ((lookers & eyeBit.right) !== 0) {
      field.right++;
      if (right[cell] >= 0) blocked |= eyeBit.right;
    }
    field.both++;
    if (blocked === 0) continue;
    const isBoth = blocked === lookers;
    if (isBoth) covered.both++;
    const ofBoth = isBoth ? (blocked === (eyeBit.left | eyeBit.right) ? 0.5 : 1) : 0;
    for (const eye of eyes) {
      if ((blocked & eyeBit[eye]) === 0) continue;
      covered[eye]++;
      const part = piece.parts[piece.partOf(covers[eye].triangles[cell])];
      if (part === undefined) continue;
      let share = parts.get(part);
      if (share === undefined) {
        share = { part, left: 0, right: 0, both: 0, nearness: 0, at: covers[eye].from };
        parts.set(part, share);
      }
      share[eye]++;
      share.both += ofBoth;
      if (covers[eye].nearness[cell] > share.nearness) {
        share.nearness = covers[eye].nearness[cell];
        share.at = place(eye, cell);
      }
    }
  }
  const { cellSolidAngle } = directionGrid;
  const list = [...parts.values()].map((share) => ({
    ...share,
    left: share.left / field.left,
    right: share.right / field.right,
    both: share.both / field.both,
  }));
  list.sort((a, b) => b.both - a.both || b.left + b.right - a.left - a.right);
  return {
    field: {
      left: field.left * cellSolidAngle,
      right: field.right * cellSolidAngle,
      both: field.both * cellSolidAngle,
    },
    covered: {
      left: covered.left / field.left,
      right: covered.right / field.right,
      both: covered.both / field.both,
    },
    parts: list,
  };
}

/** Where sight along a meridian ends, and what ends it. */
interface SightEnd {
  /** Degrees from straight ahead. */
  readonly free: number;
  readonly part?: Part | undefined;
  readonly at?: Vec3;
}

function firstCovered(piece: WornPiece, covers: Covers, meridian: number): SightEnd {
  for (let i = 0; i <= steps; i++) {
    const eccentricity = i * step;
    const cell = cellOf(eccentricity, meridian);
    const lookers = eyes.filter((eye) => couldSee(eye, eccentricity, meridian));
    if (!lookers.every((eye) => covers[eye].triangles[cell] >= 0)) continue;
    const nearest = lookers.reduce((a, b) => (covers[b].nearness[cell] > covers[a].nearness[cell] ? b : a));
    const { from, nearness, triangles } = covers[nearest];
    return {
      free: Math.max(0, eccentricity - step / 2),
      part: piece.parts[piece.partOf(triangles[cell])],
      at: addScaled(from, directionOfCell(cell), 1 / nearness[cell]),
    };
  }
  return { free: sightReach };
}

function plotMeridian(covers: Covers, meridian: number): SightMeridian {
  const border = {
    left: fieldBorder("left", meridian),
    right: fieldBorder("right", meridian),
    both: bothBorder(meridian),
  };
  const isCovered = (eye: Eye, eccentricity: number): boolean =>
    covers[eye].triangles[cellOf(eccentricity, meridian)] >= 0;
  return {
    meridian,
    border,
    covered: {
      left: intervals(border.left, (eccentricity) => isCovered("left", eccentricity)),
      right: intervals(border.right, (eccentricity) => isCovered("right", eccentricity)),
      both: intervals(border.both, (eccentricity) =>
        eyes.every((eye) => eccentricity > border[eye] || isCovered(eye, eccentricity)),
      ),
    },
  };
}

/** Where something holds between 0 and `most` degrees. */
function intervals(most: number, holds: (eccentricity: number) => boolean): Interval[] {
  const found: Interval[] = [];
  let from = -1;
  for (let i = 0; i * step <= most; i++) {
    const here = i * step;
    if (holds(here)) {
      if (from < 0) from = Math.max(0, here - step / 2);
    } else if (from >= 0) {
      found.push([from, here - step / 2]);
      from = -1;
    }
  }
  if (from >= 0) found.push([from, most]);
  return found;
}

const limitOf: Readonly<Record<SightSide, LimitName & `sight${string}`>> = {
  left: "sightSide",
  right: "sightSide",
  up: "sightUp",
  down: "sightDown",
};

const remedy: Readonly<Record<SightSide, (degrees: number) => string>> = {
  left: (degrees) => `move it ${degrees}° farther back, raise it or thin it`,
  right: (degrees) => `move it ${degrees}° farther back, raise it or thin it`,
  up: (degrees) => `raise it by ${degrees}° as seen from the eyes, or thin it`,
  down: (degrees) => `move it ${degrees}° lower as seen from the eyes, or thin it`,
};

const idOf: Readonly<Record<SightSide, string>> = {
  left: "sight-side",
  right: "sight-side",
  up: "sight-up",
  down: "sight-down",
};

/** From here on a side that falls short of the limit is only told, degrees: short of the normal field by a tenth. */
const nearlyFree = 90;

function sideFinding(side: SightSide, { free, part, at }: SightEnd, limits: Limits): Finding[] {
  const name = limitOf[side];
  const limit = limits[name];
  if (at === undefined || free >= limit.value) return [];
  const isSideways = name === "sightSide";
  const isYardstick = isSideways && limit.source === limitDeclarations.sightSide.source;
  const where = isSideways ? `to the ${side}` : `${side}wards`;
  const yardstick = isYardstick
    ? ", the sideways vision that 16 CFR 1203.12(a) asks of bicycle helmets, here a yardstick only"
    : "";
  return [
    {
      id: idOf[side],
      check: "sight",
      severity: isSideways && free >= nearlyFree ? "note" : "warning",
      text: `${part ? `"${part.name}"` : "the piece"} leaves ${Math.floor(free)}° of sight ${where}, less than ${plain(limit.value)}°${yardstick}`,
      suggestion: remedy[side](Math.ceil(limit.value - free)),
      value: free,
      unit: "°",
      limit: { name, ...limit },
      at,
      ...atPart(part),
    },
  ];
}

function shareFinding({ covered, parts }: Shares, limits: Limits): Finding[] {
  const share = 100 * covered.both;
  const name = share > limits.sightBlocked.value ? "sightBlocked" : "sightCovered";
  const limit = limits[name];
  if (share <= limit.value) return [];
  const [worst, ...others] = parts;
  const most =
    worst && worst.both > 0 ? `; "${worst.part.name}" alone covers ${plain(100 * worst.both)} %` : "";
  const also = others.filter(({ both }) => both >= 0.005);
  return [
    {
      id: name === "sightBlocked" ? "sight-blocked" : "sight-covered",
      check: "sight",
      severity: name === "sightBlocked" ? "error" : "warning",
      text: `it covers ${Math.ceil(10 * share) / 10} % of what both eyes together see, more than ${plain(limit.value)} %${most}`,
      suggestion: `raise, thin or open ${worst ? quoted([worst, ...also].map(({ part }) => part.name)) : "it"} before the eyes, or move it out of the face`,
      value: share,
      unit: "%",
      limit: { name, ...limit },
      ...(worst && { at: worst.at }),
      ...atPart(worst?.part),
      ...(also.length > 0 && {
        notes: partNotes(
          also.map(({ part }) => part),
          (part) => {
            const own = also.find((share) => share.part === part)!;
            return `"${part.name}" covers ${plain(100 * own.both)} % of what both eyes see`;
          },
        ),
      }),
    },
  ];
}

/** Tenths below ten, whole numbers from there. */
const plain = (value: number): string => String(value < 10 ? Math.round(10 * value) / 10 : Math.round(value));
