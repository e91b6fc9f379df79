import type { PartChange } from "../../build/versions/comparison";
import { findingSentences, measurementRows } from "../../build/versions/comparisonRows";
import type { ComparedPart, ComparisonScene } from "../../preview/protocol";
import type { Localiser } from "../localiser";
import type { ComparisonResult } from "./comparisons";

/** Characters of a hash that people read. */
const shortHash = 8;

/** Characters of a text that a view takes. */
const mostText = 1900;

/** Surfaces that lie no farther apart than this are the same, mm. */
const sameSurface = 0.005;

/**
 * What a view says of a comparison.
 * @param asked the commit as the person asked for it
 * @param partNames names of the parts of the piece of now, in the design's order
 */
export function comparisonScene(
  { comparison, hasMovedValues }: ComparisonResult,
  asked: string,
  partNames: readonly string[],
  l10n: Localiser,
): ComparisonScene {
  const { revision, sentence, changes, added, removed, greatestDistance, greatestAt, parts } = comparison;
  return {
    revision: { asked, hash: revision.hash.slice(0, shortHash), subject: revision.subject.slice(0, 500) },
    sentence: sentenceOf(sentence),
    rows: measurementRows(changes).map(([label, before, now, change]) => ({
      label: upperFirst(label),
      before: unbroken(before.slice(0, mostText)),
      now: unbroken(now.slice(0, mostText)),
      change: unbroken(change),
    })),
    findings: findingSentences(changes).map((text) => sentenceOf(text)),
    added: volumeText(added),
    removed: volumeText(removed),
    ...(greatestDistance > sameSurface && {
      greatest: { text: `${figure(greatestDistance)} mm`, at: greatestAt },
    }),
    parts: parts.map((part) => comparedPart(part, partNames)),
    notes: hasMovedValues
      ? [l10n.t("The piece of now has its parameters as they were moved, the old one those of its file.")]
      : [],
  };
}

/** A volume as people read it: mm³ below a tenth of a cm³. */
export function volumeText(cubicMillimetres: number): string {
  if (cubicMillimetres < 0.5) return "nothing";
  return cubicMillimetres < 100
    ? `${Math.round(cubicMillimetres)} mm³`
    : `${figure(cubicMillimetres / 1000)} cm³`;
}

/** A number with as many decimals as tell something: two below 10, one below 100, none from there on. */
function figure(value: number): string {
  return String(Number(value.toFixed(value < 9.995 ? 2 : value < 99.95 ? 1 : 0)));
}

function comparedPart({ name, change, what, was }: PartChange, names: readonly string[]): ComparedPart {
  return {
    name,
    change: was === undefined ? change : "renamed",
    what: (was === undefined ? what.join("; ") : `from ${was}`).slice(0, mostText),
    part: change === "removed" ? -1 : names.indexOf(name),
  };
}

/** A number stays with its unit where a line is broken. */
const unbroken = (text: string): string => text.replace(/(?<=\d) /g, "\u00a0");

const upperFirst = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

const sentenceOf = (text: string): string => {
  const begun = upperFirst(text.slice(0, mostText));
  return /[.!?]$/.test(begun) ? begun : `${begun}.`;
};
