import { atPart, byLine, partNotes, quoted } from "../../checks/finding";
import type { Part } from "../../design/part";
import { type PlacedPiece, toHeadFrame } from "../placedPiece";
import type { PlanFinding } from "../planFinding";
import { type ColumnLimits, columnLimitSource, defaultColumnLimits } from "./columnRisk";
import type { Support, SupportColumn } from "./support";

/** Less support than this is not worth a word, mm³. */
const littleSupport = 1000;
/** A part is named among those that cause the most support from this share of it on. */
const muchShare = 0.1;

/**
 * What supports mean for the print: tall thin columns that may peel off or topple, those under parts of one line of the
 * design as one, the gravest first; and which parts cause the most support. `support` and `placed` are of one
 * orientation; `parts` are the design's.
 */
export function supportFindings(
  support: Support,
  placed: Pick<PlacedPiece, "rotation" | "shift">,
  parts: readonly Part[],
  limits: ColumnLimits = defaultColumnLimits,
): PlanFinding[] {
  return [...thinColumns(support, placed, parts, limits), ...mostSupport(support, placed, parts)];
}

function thinColumns(
  { columns }: Support,
  placed: Pick<PlacedPiece, "rotation" | "shift">,
  parts: readonly Part[],
  limits: ColumnLimits,
): PlanFinding[] {
  const owner = ({ parts: held }: SupportColumn): Part | undefined =>
    parts[held.find((part) => part >= 0) ?? -1];
  const thin = columns
    .filter(({ risk }) => risk)
    .sort((a, b) => b.slenderness - a.slenderness || a.at[0] - b.at[0] || a.at[1] - b.at[1]);
  return byLine(thin, owner).map((alike): PlanFinding => {
    const [worst] = alike;
    const part = owner(worst);
    const height = worst.top - worst.bottom;
    const others = [...new Set(alike.map(owner))].filter((other): other is Part => !!other && other !== part);
    const more = alike.length > 1 ? `; ${alike.length - 1} more like it from this line` : "";
    const under = part ? `under "${part.name}"` : "under what the head left of the piece";
    const end = worst.risk === "peels" ? "may peel off" : "may topple";
    return {
      id: worst.risk === "peels" ? "support-peels" : "support-topples",
      severity: "warning",
      topic: "support",
      text: `a support ${under} ${end}: ${height.toFixed(0)} mm tall and ${worst.width.toFixed(1)} mm thick where it is thinnest for its height${more}`,
      suggestion: suggestionFor(part, alike.length),
      ...atPart(part),
      value: worst.slenderness,
      unit: "",
      limit: { name: "slenderness of a support", value: limits.slenderness, source: columnLimitSource },
      at: toHeadFrame(placed, worst.at),
      ...(others.length > 0 && {
        notes: partNotes(others, (other) => {
          const own = alike.find((column) => owner(column) === other);
          return `"${other.name}": ${own ? `${(own.top - own.bottom).toFixed(0)} mm tall and ${own.width.toFixed(1)} mm thick` : ""}`;
        }),
      }),
    };
  });
}

function suggestionFor(part: Part | undefined, count: number): string {
  const name = part ? `${part.name} prop` : "prop";
  return `${count > 1 ? "replace them" : "replace it"} by a strut that is printed with the piece: prop(${JSON.stringify(name)}, …) in the design, or anadem plan --props for all of them; or print the piece another way up`;
}

function mostSupport(
  { byPart, volume, columns }: Support,
  placed: Pick<PlacedPiece, "rotation" | "shift">,
  parts: readonly Part[],
): PlanFinding[] {
  if (volume < littleSupport) return [];
  const named = byPart.flatMap(({ part, volume: own }) =>
    parts[part] ? [{ part: parts[part], own, index: part }] : [],
  );
  const lines = byLine(named, ({ part }) => part)
    .map((items) => ({ items, own: items.reduce((sum, item) => sum + item.own, 0) }))
    .sort((a, b) => b.own - a.own);
  const [first] = lines;
  if (!first || first.own < muchShare * volume) return [];
  const [{ part, index }] = first.items;
  const percent = (mm3: number): string => `${Math.round((100 * mm3) / volume)} %`;
  const column = columns
    .filter(({ parts: held }) => held.includes(index))
    .sort((a, b) => b.volume - a.volume)[0];
  const rest = lines.slice(1).filter(({ own }) => own >= muchShare * volume);
  const names = quoted(first.items.map((item) => item.part.name));
  return [
    {
      id: "most-support",
      severity: "note",
      topic: "support",
      text: `${names} ${first.items.length > 1 ? "cause" : "causes"} ${percent(first.own)} of the support, ${(first.own / 1000).toFixed(1)} of ${(volume / 1000).toFixed(1)} cm³`,
      suggestion: `another orientation may hold ${first.items.length > 1 ? "them" : "it"} up with less: orientation: "best", or steepen what leans out`,
      ...atPart(part),
      value: first.own / 1000,
      unit: "cm³",
      ...(column && { at: toHeadFrame(placed, column.at) }),
      ...(rest.length > 0 && {
        notes: rest.slice(0, 6).map(({ items, own }) => ({
          text: `${quoted(items.map((item) => item.part.name))}: ${percent(own)}`,
          ...items[0].part.origin,
        })),
      }),
    },
  ];
}
