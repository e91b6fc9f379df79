import type { PartSummary } from "../../build/service/protocol";
import type { ReportPart } from "../../export/report";
import type { DesignState } from "../designState";
import type { Localiser } from "../localiser";
import { plainMarkdown } from "../markdownText";

/** A place in a file: line and column count from 1. */
export interface Spot {
  readonly file: string;
  readonly line: number;
  readonly column: number;
}

/** What was built of a part. */
export interface BuiltPart extends PartSummary {
  /** Its share of the piece, where the piece was built. */
  readonly built?: ReportPart;
}

/** Parts of a loop that a hover names one by one. */
const mostNamed = 3;

/**
 * The parts that the call at a place made: one, or many where it stands in a loop.
 */
export function partsAt(state: DesignState, spot: Spot, isSameFile: (file: string) => boolean): BuiltPart[] {
  const { facts, report } = state;
  const built = new Map(report?.parts.map((part) => [part.name, part]));
  return (facts?.parts ?? [])
    .filter(
      ({ origin }) =>
        origin !== undefined &&
        origin.line === spot.line &&
        origin.column === spot.column &&
        isSameFile(origin.file),
    )
    .map((part) => {
      const own = built.get(part.name);
      return own ? { ...part, built: own } : part;
    });
}

/** What a hover says of the parts of one call, as Markdown. */
export function partHover(parts: readonly BuiltPart[], isOutdated: boolean, l10n: Localiser): string {
  const lines = parts.length === 1 ? onePart(parts[0], l10n) : manyParts(parts, l10n);
  if (isOutdated) lines.push(`*${plainMarkdown(l10n.t("As last built; the text has changed since."))}*`);
  return lines.join("  \n");
}

function onePart({ name, kind, length, radius, built }: BuiltPart, l10n: Localiser): string[] {
  const facts = [
    length === undefined ? undefined : l10n.t("{0} mm long", whole(length)),
    radius && radiusText(radius, l10n),
    built && l10n.t("{0} g, {1} % of the piece", built.massPrintedG, percent(built.share)),
  ];
  return [`**${plainMarkdown(name)}** · ${kindText(kind, l10n)}`, line(facts)].filter((text) => text !== "");
}

function manyParts(parts: readonly BuiltPart[], l10n: Localiser): string[] {
  const built = parts.flatMap((part) => part.built ?? []);
  const lengths = parts.flatMap(({ length }) => length ?? []);
  const radii = parts.flatMap(({ radius }) => radius ?? []);
  const kinds = new Set(parts.map(({ kind }) => kind));
  const what =
    kinds.size === 1 ? kindsText(parts[0].kind, parts.length, l10n) : l10n.t("{0} parts", parts.length);
  const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0);
  const facts = [
    lengths.length > 0
      ? l10n.t("{0} mm long, {1} m together", range(lengths, whole), (sum(lengths) / 1000).toFixed(2))
      : undefined,
    radii.length > 0 ? radiusText([Math.min(...radii), Math.max(...radii)], l10n) : undefined,
    built.length > 0
      ? l10n.t(
          "{0} g together, {1} % of the piece",
          Number(sum(built.map(({ massPrintedG }) => massPrintedG)).toFixed(1)),
          percent(sum(built.map(({ share }) => share))),
        )
      : undefined,
  ];
  const heaviest = [...built].sort((a, b) => b.massPrintedG - a.massPrintedG)[0];
  return [
    `**${plainMarkdown(what)}**: ${plainMarkdown(namesText(parts))}`,
    line(facts),
    heaviest ? plainMarkdown(l10n.t("heaviest: {0}, {1} g", heaviest.name, heaviest.massPrintedG)) : "",
  ].filter((text) => text !== "");
}

function namesText(parts: readonly BuiltPart[]): string {
  const names = parts.map(({ name }) => name);
  if (names.length <= mostNamed) return names.join(", ");
  return `${names[0]}, ${names[1]} … ${names[names.length - 1]}`;
}

const line = (facts: readonly (string | undefined)[]): string =>
  facts
    .filter((fact) => fact !== undefined)
    .map((fact) => plainMarkdown(fact))
    .join(" · ");

const radiusText = ([least, most]: readonly [number, number], l10n: Localiser): string =>
  l10n.t("radius {0} mm", range([least, most], tenths));

function range(values: readonly number[], rounded: (value: number) => number): string {
  const least = rounded(Math.min(...values));
  const most = rounded(Math.max(...values));
  return least === most ? String(least) : `${least}–${most}`;
}

const whole = (value: number): number => (value < 9.95 ? tenths(value) : Math.round(value));
const tenths = (value: number): number => Number(value.toFixed(1));
const percent = (share: number): number => tenths(100 * share);

function kindText(kind: PartSummary["kind"], l10n: Localiser): string {
  if (kind === "tube") return l10n.t("tube");
  return kind === "solid" ? l10n.t("solid") : l10n.t("cut");
}

function kindsText(kind: PartSummary["kind"], count: number, l10n: Localiser): string {
  if (kind === "tube") return l10n.t("{0} tubes", count);
  return kind === "solid" ? l10n.t("{0} solids", count) : l10n.t("{0} cuts", count);
}
