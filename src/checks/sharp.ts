import type { Part } from "../design/part";
import type { Limits } from "../wearLimits";
import { type SharpEdges, sharpEdges } from "./edges/sharpEdges";
import { fitsSmallPartsCylinder } from "./edges/smallParts";
import { type FreeTip, freeTips, hullPoints } from "./edges/tips";
import { atPart, byLine, type Finding, partNotes, quoted } from "./finding";
import type { WornHead } from "./wornHead";
import type { WornPiece } from "./wornPiece";

/** *What is sharp, and what is small enough to swallow?* */
export interface Sharp {
  /** Tips that stand free, the sharpest first. */
  readonly tips: readonly FreeTip[];
  /** Acute edges by part, the longest first. */
  readonly edges: readonly (Omit<SharpEdges, "part"> & { readonly part: string })[];
  /** Parts that would fit the small-parts cylinder if they came off. */
  readonly smallParts: readonly string[];
  readonly findings: readonly Finding[];
}

const child = "keep sharp things from children";

/**
 * Answers *what is sharp?*: free tips below a radius, edges that are acute; and which parts would fit the small-parts
 * cylinder of 16 CFR 1501.4 if they snapped off. Sharp points of toys are judged by a gauge (16 CFR 1500.48); a radius
 * stands for it here.
 */
export function sharp(piece: WornPiece, head: Pick<WornHead, "isChild">, limits: Limits): Sharp {
  const tips = freeTips(piece).sort((a, b) => a.radius - b.radius);
  const edges = sharpEdges(piece, limits.edgeAngle.value);
  const tipped = new Set(tips.map(({ part }) => part));
  const small = piece.parts.filter(
    (part) => isLoosable(part, tipped) && fitsSmallPartsCylinder(hullPoints(part)),
  );
  return {
    tips,
    edges: edges.map((edge) => ({ ...edge, part: piece.parts[edge.part]?.name ?? "" })),
    smallParts: small.map(({ name }) => name),
    findings: [
      ...tipFindings(tips, piece.parts, limits),
      ...edgeFindings(edges, piece.parts, limits),
      ...smallFindings(small, head.isChild),
    ],
  };
}

/** What could snap off: a body that was set on, and a tube with a free end. */
const isLoosable = (part: Part, tipped: ReadonlySet<string>): boolean =>
  part.kind === "solid" || (part.kind === "tube" && tipped.has(part.name));

/** One finding for all tips that one line of the design made, the sharpest first. */
function tipFindings(tips: readonly FreeTip[], parts: readonly Part[], { tipRadius }: Limits): Finding[] {
  const pointed = tips.filter(({ radius }) => radius < tipRadius.value);
  return byLine(pointed, ({ index }) => parts[index]).map((group) => {
    const [tip] = group;
    const names = [...new Set(group.map(({ part }) => part))];
    const whose = names.length === 1 ? `the tip of ${quoted(names)} is` : `the tips of ${quoted(names)} are`;
    return {
      id: "sharp-tip",
      check: "sharp",
      severity: "warning",
      text: `${whose} sharp: a radius of ${plain(tip.radius)} mm, less than ${plain(tipRadius.value)} mm`,
      suggestion: `blunt ${names.length === 1 ? "it" : "them"}, for example with tip: "round" at a greater radius or { bulb: ${plain(Math.max(tipRadius.value, 2))} }; ${child}, and tips from eyes`,
      value: tip.radius,
      unit: "mm",
      limit: { name: "tipRadius", ...tipRadius },
      at: tip.at,
      ...atPart(parts[tip.index]),
    };
  });
}

/** One finding for all edges of parts that one line of the design made, the longest first. */
function edgeFindings(
  edges: readonly SharpEdges[],
  parts: readonly Part[],
  { edgeAngle }: Limits,
): Finding[] {
  return byLine(edges, ({ part }) => parts[part]).map((group) => {
    const [longest] = group;
    const length = group.reduce((sum, edge) => sum + edge.length, 0);
    const angle = Math.min(...group.map((edge) => edge.angle));
    const names = group.flatMap(({ part }) => parts[part]?.name ?? []);
    return {
      id: "sharp-edge",
      check: "sharp",
      severity: "warning",
      text: `${names.length === 0 ? "it has" : `${quoted(names)} ${names.length === 1 ? "has" : "have"}`} ${length.toFixed(0)} mm of sharp edge, down to ${angle.toFixed(0)}°`,
      suggestion: `round the section, lift it off the hollow of the head, or break the edge with a file; ${child}`,
      value: angle,
      unit: "°",
      limit: { name: "edgeAngle", ...edgeAngle },
      at: longest.at,
      ...atPart(parts[longest.part]),
    };
  });
}

function smallFindings(small: readonly Part[], isChild: boolean): Finding[] {
  if (small.length === 0) return [];
  const [first] = small;
  const count = small.length;
  return [
    {
      id: "small-parts",
      check: "sharp",
      severity: isChild ? "warning" : "note",
      text: `${count === 1 ? "1 part fits" : `${count} parts fit`} the small-parts cylinder if ${count === 1 ? "it snaps" : "they snap"} off: ${quoted(small.map(({ name }) => name))}`,
      suggestion: isChild
        ? "the wearer is a child: leave them out, make them larger than 57 mm, or grow them in deeply"
        : "keep the piece, and anything that came off it, from small children (cylinder: 16 CFR 1501.4)",
      value: count,
      unit: count === 1 ? "part" : "parts",
      ...atPart(first),
      notes: partNotes(small.slice(1), ({ name }) => `"${name}" fits too`),
    },
  ];
}

const plain = (value: number): string => String(Math.round(value * 100) / 100);
