import type { Orientation } from "../../orientation";
import type { FoundOrientation, OrientationName, OrientationSearch } from "./orientationSearch";
import type { OrientationFigures } from "./quickFigures";

/** What a plan says of a way up. */
export type CloserFigures = Pick<
  OrientationFigures,
  "hours" | "supportVolume" | "contactArea" | "thinColumns"
>;

/** Names that do not change by a closer look. */
const standing: readonly OrientationName[] = ["as designed", "as given", "best of all"];

/**
 * The ways up that a search found with their figures as a plan has them, in place of those by closed form and coarse
 * cells; what is best at one thing is named anew, and what is best at nothing any more is left out.
 */
export function closerLook(
  search: OrientationSearch,
  look: (orientation: Orientation) => CloserFigures,
): OrientationSearch {
  const seen = search.found.map((one) => {
    const closer = look(one.orientation);
    const { contactArea, scars } = one.figures;
    const figures: OrientationFigures = {
      ...one.figures,
      ...closer,
      scars: contactArea > 0 ? (scars * closer.contactArea) / contactArea : scars,
    };
    return { ...one, figures };
  });
  const fitting = seen.filter(({ fits }) => fits);
  const all = fitting.length > 0 ? fitting : seen;
  const least = (of: (figures: OrientationFigures) => number) =>
    all.reduce((best, one) => (of(one.figures) < of(best.figures) ? one : best));
  const winners: [OrientationName, FoundOrientation][] = [
    ["fewest hours", least(({ hours }) => hours)],
    ["least support", least(({ supportVolume }) => supportVolume)],
    ["lowest", least(({ height }) => height)],
  ];
  if (all.some(({ figures }) => figures.weakest !== undefined)) {
    winners.push(["strongest", least(({ weakest = Infinity }) => -weakest)]);
  }
  const found = seen
    .map((one) => ({
      ...one,
      names: [
        ...one.names.filter((name) => standing.includes(name)),
        ...winners.filter(([, winner]) => winner === one).map(([name]) => name),
      ],
    }))
    .filter(({ names }) => names.length > 0);
  const of = (name: OrientationName) => found.find(({ names }) => names.includes(name));
  const given = of("as given");
  return {
    ...search,
    found,
    asDesigned: of("as designed")!,
    best: of("best of all")!,
    ...(given && { given }),
  };
}
