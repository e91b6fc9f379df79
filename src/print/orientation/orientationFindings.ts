import type { Place } from "../../message";
import type { Orientation, OrientationChoice } from "../../orientation";
import type { PlanFinding } from "../planFinding";
import type { FoundOrientation, OrientationSearch } from "./orientationSearch";
import { orientationLine, orientationWords, sameUp } from "./orientationWords";

/** Another way up is told of when it saves so much of the hours. */
const worthTelling = 0.2;
const practice = "common practice, no source";

/** How a piece is printed, as far as these findings ask. */
export interface ChosenWayUp {
  readonly choice: OrientationChoice;
  readonly orientation: Orientation;
  readonly fits: boolean;
}

/**
 * What is to be said about the way up: that a given one does not fit, that none does, or that another one saves a fifth of
 * the hours or all thin columns, with the line that says so in the design.
 * @param origin the call in the design that says how it is printed
 */
export function orientationFindings(
  search: OrientationSearch,
  chosen: ChosenWayUp,
  origin?: Place,
): PlanFinding[] {
  const fitting = search.found.filter(({ fits }) => fits);
  if (!chosen.fits) {
    if (fitting.length === 0) return [nothingFits(search, origin)];
    return typeof chosen.choice === "object" ? [givenTooLarge(chosen.orientation, search, origin)] : [];
  }
  const own = fitting.find(({ orientation }) => sameUp(orientation, chosen.orientation));
  return own ? savings(own, fitting, origin) : [];
}

function nothingFits({ found, printer }: OrientationSearch, origin?: Place): PlanFinding {
  const least = found.reduce((best, one) => (one.room > best.room ? one : best));
  return {
    id: "fits-no-way-up",
    topic: "plate",
    severity: "warning",
    text:
      `whichever way up, it is too large for "${printer}": by ${millimetres(-least.room)} mm where that is least ` +
      `(${orientationWords(least.orientation)})`,
    suggestion: "print it in pieces, or on a larger printer",
    value: -least.room,
    unit: "mm",
    ...origin,
  };
}

function givenTooLarge(
  orientation: Orientation,
  { best, given, printer }: OrientationSearch,
  origin?: Place,
): PlanFinding {
  const excess = given && !given.fits ? -given.room : 0;
  const size = excess > 0 ? `${millimetres(excess)} mm ` : "";
  return {
    id: "orientation-does-not-fit",
    topic: "plate",
    severity: "warning",
    text: `${orientationWords(orientation)}, it is ${size}too large for "${printer}"`,
    suggestion: best.fits
      ? `write ${orientationLine(best.orientation)}, which fits`
      : 'write print: { orientation: "as designed" }: it is then tilted as little as fits',
    value: excess,
    unit: "mm",
    ...origin,
  };
}

function savings(own: FoundOrientation, fitting: readonly FoundOrientation[], origin?: Place): PlanFinding[] {
  const { hours, thinColumns } = own.figures;
  const saved = (one: FoundOrientation): number => 1 - one.figures.hours / hours;
  // What costs more by the person's own weights is not advised.
  const better = fitting.filter(
    (one) =>
      one.cost < own.cost &&
      (saved(one) >= worthTelling || (thinColumns > 0 && one.figures.thinColumns === 0)),
  );
  if (better.length === 0) return [];
  const best = better.reduce((least, one) => (one.cost < least.cost ? one : least));
  const gains = [
    ...(saved(best) >= worthTelling ? [`about ${Math.floor(100 * saved(best))} % of the hours`] : []),
    ...(thinColumns > 0 && best.figures.thinColumns === 0
      ? [thinColumns === 1 ? "the one thin support" : `all ${thinColumns} thin supports`]
      : []),
  ];
  return [
    {
      id: "orientation-saves",
      topic: "orientation",
      severity: "note",
      text: `${orientationWords(best.orientation)}, it would save ${gains.join(" and ")}`,
      suggestion: `write ${orientationLine(best.orientation)}`,
      value: 100 * Math.max(0, saved(best)),
      unit: "%",
      limit: { name: "hours saved", value: 100 * worthTelling, source: practice },
      ...origin,
    },
  ];
}

/** A size that is too large, never less than it is. */
const millimetres = (value: number): string =>
  value >= 10 ? String(Math.ceil(value)) : String(Math.ceil(value * 10 - 1e-9) / 10);
