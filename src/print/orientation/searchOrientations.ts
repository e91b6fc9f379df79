import { exactFit } from "../../checks/plateFit";
import type { Printer } from "../../checks/printer";
import type { PartMesh } from "../../geometry/mesh";
import type { Vec3 } from "../../geometry/vector";
import type { Orientation, OrientationWeights } from "../../orientation";
import type { PrintSettings } from "../../printSettings";
import { orientationOfUp, type PlacedPiece, placedPiece, upOf } from "../placedPiece";
import type { Support } from "../support/support";
import { angleBetween, axisDirections, directionsAround, evenDirections } from "./directions";
import { LandingField } from "./landingField";
import { type CostReferences, costReferences, orientationCost } from "./orientationCost";
import {
  type FoundOrientation,
  type OrientationName,
  type OrientationSearch,
  orientationNames,
} from "./orientationSearch";
import { type PlateRoom, plateRoom, roomAt, roomInTube } from "./plateRoom";
import { printHours } from "./printHours";
import { type OrientationFigures, type QuickFigures, QuickOrientation } from "./quickFigures";

/** Supports of a piece as it lies on the plate, looked for on a grid of cells of a side, mm. */
export type SupportFinder = (placed: PlacedPiece, cell: number) => Support;

export interface OrientationInput {
  /** The finished solid, head frame. */
  readonly mesh: PartMesh;
  readonly printer: Printer;
  readonly settings: PrintSettings;
  readonly weights: OrientationWeights;
  readonly support: SupportFinder;
  /** Safety factor of the weakest arm when a direction looks up; undefined for a piece without arms. */
  readonly weakest?: (up: Vec3) => number | undefined;
  /** How it is printed as designed: see `asDesignedOrientation`; absent: upright. */
  readonly asDesigned?: Orientation;
  /** One that the design gives, to be looked at as well. */
  readonly given?: Orientation | undefined;
  /** Directions spread over the sphere; usually 500. */
  readonly directions?: number;
}

const upright: Orientation = { tilt: 0, towards: 0, turn: 0 };
const usualDirections = 500;
/** Of them, so many are looked at cell by cell to learn where supports land. */
const sampled = 32;
/** Cells over the longest side of the piece: for those, and for the few best. */
const roughCells = 100;
const fineCells = 170;
/** Cells are never smaller nor larger than this, mm. */
const cellLimits = [0.3, 3] as const;
/** The largest flat faces are tried as bases. */
const mostFlats = 16;
/** The best directions that are looked at cell by cell, this many degrees apart; of them the first are refined. */
const mostBest = 7;
const apart = 10;
const farApart = 25;
const mostRefined = 4;
/** Steps of the refinement, degrees. */
const refining = [6, 3, 1.5, 0.75, 0.4] as const;
/** At the end the neighbours of the best at this angle are looked at. */
const lastLook = 3;
/** Nearer than this, degrees, and alike in cost to this share, two orientations are one. */
const same = 5;
const likeCost = 0.02;
/** What cannot be printed comes behind all that can. */
const doesNotFit = 1e6;
/** Rounding to fewer digits may cost so much. */
const roundingCost = 1.005;

/**
 * Looks for the best way up over directions of the whole sphere: those spread evenly, the axes, and those that lay a flat
 * face on the plate. All are compared by closed forms (`QuickOrientation`), corrected for supports that land on the piece
 * (`LandingField`); the best are refined by small steps, and a few, with the best at each single thing, looked at cell by
 * cell (`support`). Same input, same answer.
 * @throws RangeError for an empty mesh, one that is not finite, fewer than 32 directions
 */
export function searchOrientations(input: OrientationInput): OrientationSearch {
  return new Search(input).result();
}

/**
 * The figures of one orientation, looked at cell by cell as the search does.
 * @throws RangeError for an empty mesh, one that is not finite
 */
export function figuresOf(input: OrientationInput, orientation: Orientation): OrientationFigures {
  return new Search(input).figuresOf(orientation);
}

interface Compared {
  readonly up: Vec3;
  readonly figures: OrientationFigures;
  readonly place: PlateRoom;
  /** Weighted cost; what does not fit behind what does. */
  readonly rank: number;
}

type Looked = Omit<FoundOrientation, "names"> & { readonly up: Vec3; readonly rank: number };

class Search {
  readonly #input: OrientationInput;
  readonly #quick: QuickOrientation;
  readonly #longest: number;
  readonly #middle: Vec3;
  readonly #radius: number;
  readonly #looked: Looked[] = [];
  #field = new LandingField([]);
  #references: CostReferences | undefined;
  #compared = 0;
  #seen = 0;

  constructor(input: OrientationInput) {
    this.#input = input;
    this.#quick = new QuickOrientation(input);
    const { extremes } = this.#quick;
    const least = [Infinity, Infinity, Infinity];
    const most = [-Infinity, -Infinity, -Infinity];
    for (let i = 0; i < extremes.length; i++) {
      least[i % 3] = Math.min(least[i % 3], extremes[i]);
      most[i % 3] = Math.max(most[i % 3], extremes[i]);
    }
    this.#longest = Math.max(most[0] - least[0], most[1] - least[1], most[2] - least[2]);
    this.#middle = [0, 1, 2].map((axis) => (least[axis] + most[axis]) / 2) as unknown as Vec3;
    this.#radius = 0;
    for (let i = 0; i < extremes.length; i += 3) {
      const [x, y, z] = [0, 1, 2].map((axis) => extremes[i + axis] - this.#middle[axis]);
      this.#radius = Math.max(this.#radius, Math.hypot(x, y, z));
    }
  }

  result(): OrientationSearch {
    const count = this.#input.directions ?? usualDirections;
    if (!(count >= sampled)) {
      throw new RangeError(`${count} directions are too few: give ${sampled} at least.`);
    }
    this.#sampleLandings();
    const even = evenDirections(count);
    const others = [...axisDirections, ...this.#quick.standing.flatDirections(mostFlats)];
    const figures = [...even, ...others].map((up) => this.#corrected(up));
    const greatest = figures.reduce((most, { footprint }) => Math.max(most, footprint), 0);
    this.#references = costReferences(figures.slice(0, even.length), greatest);
    const compared = [...even, ...others].map((up, i) => this.#ranked(up, figures[i]));

    const asDesigned = this.#lookAt(this.#input.asDesigned ?? upright);
    const given = this.#input.given && this.#lookAt(this.#input.given);
    for (const candidate of this.#candidates(compared)) this.#lookAt(this.#orientationOf(candidate));
    for (const up of directionsAround(this.#best().up, lastLook)) {
      this.#lookAt(this.#orientationOf(this.#compare(up)));
    }
    return this.#named(asDesigned, given);
  }

  figuresOf(orientation: Orientation): OrientationFigures {
    const quick = this.#quick.figures(upOf(orientation));
    return this.#seenFigures(quick, orientation, this.#cell(fineCells));
  }

  /** Learns in some directions how supports differ from closed form. */
  #sampleLandings(): void {
    const cell = this.#cell(roughCells);
    this.#field = new LandingField(
      evenDirections(sampled).map((up) => {
        const quick = this.#quick.figures(up);
        return { up, quick, seen: this.#seenFigures(quick, orientationOfUp(up), cell) };
      }),
    );
  }

  #cell(cells: number): number {
    return Math.min(cellLimits[1], Math.max(cellLimits[0], this.#longest / cells));
  }

  /** Figures by closed form, with what is known of landings. */
  #corrected(up: Vec3): OrientationFigures {
    this.#compared++;
    const quick = this.#quick.figures(up);
    const { volume, contact, thin } = this.#field.at(up);
    return this.#with(quick, {
      supportVolume: quick.supportVolume * volume,
      heldArea: quick.sums.heldArea,
      contactArea: quick.contactArea * contact,
      thinColumns: quick.contactArea * thin,
    });
  }

  #with(
    quick: QuickFigures,
    seen: {
      readonly supportVolume: number;
      readonly heldArea: number;
      readonly contactArea: number;
      readonly thinColumns: number;
    },
  ): OrientationFigures {
    const { settings, printer } = this.#input;
    const { sums, ...figures } = quick;
    const { supportVolume, heldArea, contactArea, thinColumns } = seen;
    const { clusters } = this.#quick;
    const shown =
      quick.contactArea > 0
        ? quick.scars / quick.contactArea
        : clusters.shown.reduce((sum, area) => sum + area, 0) / clusters.area;
    return {
      ...figures,
      hours: printHours({ ...sums, supportVolume, heldArea }, settings, printer),
      supportVolume,
      contactArea,
      scars: contactArea * shown,
      thinColumns,
    };
  }

  /** Figures with supports found cell by cell, and the piece as it lies. */
  #seenFigures(quick: QuickFigures, orientation: Orientation, cell: number): OrientationFigures {
    this.#seen++;
    const { mesh, printer, support } = this.#input;
    const placed = placedPiece(mesh, orientation, printer.plate, this.#quick.outer);
    const { volume, contactArea, landingArea, columns, runs } = support(placed, cell);
    return this.#with(quick, {
      supportVolume: volume,
      heldArea: runs.count * runs.cell * runs.cell,
      contactArea: contactArea + landingArea,
      thinColumns: columns.filter(({ risk }) => risk !== undefined).length,
    });
  }

  #compare(up: Vec3): Compared {
    return this.#ranked(up, this.#corrected(up));
  }

  #ranked(up: Vec3, figures: OrientationFigures): Compared {
    const place = this.#roomFor(up);
    return { up, figures, place, rank: this.#rank(figures, place.room) };
  }

  #rank(figures: OrientationFigures, room: number): number {
    const cost = orientationCost(figures, this.#references!, this.#input.weights);
    return room >= exactFit ? cost : cost + doesNotFit * (1 - room);
  }

  #roomFor(up: Vec3): PlateRoom {
    const { printer } = this.#input;
    const { plate, height } = printer;
    const narrow = plate.shape === "round" ? plate.diameter : Math.min(plate.width, plate.depth);
    // What fits as a ball fits in any direction.
    const room = Math.min(narrow, height) - 2 * this.#radius;
    if (room > 0) return { room, turn: 0, fits: true };
    const { extremes } = this.#quick;
    if (plate.shape === "round") {
      // What fits in the circle about its middle fits in the least one.
      const rough = roomInTube(extremes, up, this.#middle, plate.diameter, height);
      if (rough > 0) return { room: rough, turn: 0, fits: true };
    }
    return plateRoom(extremes, up, printer);
  }

  /** Directions that are worth a close look: the best, and the best at each single thing. */
  #candidates(compared: readonly Compared[]): Compared[] {
    const ranked = [...compared].sort((a, b) => a.rank - b.rank);
    const chosen: Compared[] = [];
    for (const one of ranked) {
      if (chosen.length === mostBest) break;
      if (chosen.every(({ up }) => angleBetween(up, one.up) > apart)) chosen.push(one);
    }
    const byRank = ({ rank }: Compared): number => rank;
    const refined = chosen.map((one, i) => (i < mostRefined ? this.#refined(one, byRank) : one));
    const things: ((figures: OrientationFigures) => number)[] = [
      ({ hours }) => hours,
      ({ supportVolume }) => supportVolume,
      ({ height }) => height,
      ...(this.#input.weakest ? [({ weakest }: OrientationFigures) => -(weakest ?? 0)] : []),
    ];
    for (const thing of things) {
      // Of what is alike at one thing the better one by weights.
      const value = ({ figures, place, rank }: Compared): number =>
        place.fits ? thing(figures) * (1 + 1e-9 * Math.sign(thing(figures)) * rank) : rank;
      const sorted = [...compared].sort((a, b) => value(a) - value(b));
      refined.push(this.#refined(sorted[0], value));
      // What is best at one thing by closed form need not be so cell by cell: another one elsewhere is looked at too.
      const elsewhere = sorted.find(({ up }) => angleBetween(up, sorted[0].up) > farApart);
      if (elsewhere) refined.push(elsewhere);
    }
    const distinct: Compared[] = [];
    for (const one of refined) {
      if (distinct.every(({ up }) => angleBetween(up, one.up) > 1)) distinct.push(one);
    }
    return distinct;
  }

  /** Goes downhill by smaller and smaller steps. */
  #refined(from: Compared, value: (one: Compared) => number): Compared {
    let best = from;
    for (const step of refining) {
      for (let round = 0; round < 3; round++) {
        const before = best;
        for (const up of directionsAround(best.up, step)) {
          const next = this.#compare(up);
          if (value(next) < value(best)) best = next;
        }
        if (best === before) break;
      }
    }
    return best;
  }

  /** The orientation of a direction in as few digits as cost nothing to speak of. */
  #orientationOf({ up, place, rank }: Compared): Orientation {
    const exact = orientationOfUp(up, place.turn);
    for (const digits of [0, 1, 2]) {
      const orientation = roundedOrientation(exact, digits);
      const { rank: roundedRank } = this.#compare(upOf(orientation));
      const room = roomAt(this.#quick.extremes, orientation, this.#input.printer);
      if (place.fits && room < exactFit) continue;
      if (roundedRank <= rank * roundingCost) return orientation;
    }
    return exact;
  }

  #lookAt(orientation: Orientation): Looked {
    const up = upOf(orientation);
    const known = this.#looked.find(
      (one) => angleBetween(one.up, up) < 0.5 && (one.fits || one.orientation.turn === orientation.turn),
    );
    if (known) return known;
    const { printer } = this.#input;
    const quick = this.#quick.figures(up);
    const figures = this.#seenFigures(quick, orientation, this.#cell(fineCells));
    const room = roomAt(this.#quick.outer, orientation, printer);
    const cost = orientationCost(figures, this.#references!, this.#input.weights);
    const rank = this.#rank(figures, room);
    const looked = { up, orientation, figures, room, fits: room >= exactFit, cost, rank };
    this.#looked.push(looked);
    return looked;
  }

  #best(): Looked {
    return this.#looked.reduce((best, one) => (one.rank < best.rank ? one : best));
  }

  /** What is shown: as designed, the best, and the best at each thing, those that are alike as one. */
  #named(asDesigned: Looked, given: Looked | undefined): OrientationSearch {
    const fitting = this.#looked.filter(({ fits }) => fits);
    const all = fitting.length > 0 ? fitting : this.#looked;
    const leastBy = (value: (one: Looked) => number): Looked =>
      all.reduce((best, one) => {
        const [a, b] = [value(one), value(best)];
        return a < b || (a === b && one.rank < best.rank) ? one : best;
      });
    const winners = new Map<OrientationName, Looked>([
      ["as designed", asDesigned],
      ["best of all", leastBy(({ rank }) => rank)],
      ["fewest hours", leastBy(({ figures }) => figures.hours)],
      ["least support", leastBy(({ figures }) => figures.supportVolume)],
      ["lowest", leastBy(({ figures }) => figures.height)],
    ]);
    if (given) winners.set("as given", given);
    if (all.some(({ figures }) => figures.weakest !== undefined)) {
      winners.set(
        "strongest",
        leastBy(({ figures }) => -(figures.weakest ?? Infinity)),
      );
    }
    const groups: { readonly looked: Looked; readonly names: OrientationName[] }[] = [];
    for (const name of orientationNames) {
      const looked = winners.get(name);
      if (!looked) continue;
      const group = groups.find(
        (one) =>
          one.looked.fits === looked.fits &&
          angleBetween(one.looked.up, looked.up) < same &&
          Math.abs(one.looked.cost - looked.cost) <= likeCost * looked.cost,
      );
      if (group) group.names.push(name);
      else groups.push({ looked, names: [name] });
    }
    const found = groups.map(({ looked, names }): FoundOrientation => {
      const { orientation, figures, cost, room, fits } = looked;
      return { names, orientation, figures, cost, room, fits };
    });
    const of = (name: OrientationName): FoundOrientation => found.find(({ names }) => names.includes(name))!;
    return {
      printer: this.#input.printer.name,
      found,
      asDesigned: of("as designed"),
      ...(given && { given: of("as given") }),
      best: of("best of all"),
      compared: this.#compared,
      lookedAt: this.#seen,
      references: this.#references!,
    };
  }
}

/** An orientation with so many digits behind the point. */
export function roundedOrientation({ tilt, towards, turn }: Orientation, digits: number): Orientation {
  const unit = 10 ** digits;
  const round = (value: number): number => Math.round(value * unit) / unit + 0;
  const rounded = { tilt: round(tilt), towards: round(towards), turn: round(turn) };
  return rounded.tilt === 0 ? { ...rounded, towards: 0 } : rounded;
}
