import { verdictTitles } from "../checks/verdict";
import { escaped, messageList, table } from "./markdown";
import type { ReportWear } from "./wearReport";
import { wearLines } from "./wearSentences";

/** Fit and wear as blocks of Markdown: the verdict, its reasons, the answers, what was found, the figures. */
export function wearBlocks(wear: ReportWear): string[] {
  const blocks = [
    `## ${verdictTitles[wear.verdict]}`,
    ...(wear.reasons.length > 0 ? [wear.reasons.map((reason) => `- ${escaped(reason)}`).join("\n")] : []),
    table(
      ["fit and wear", ""],
      wearLines(wear).map(({ label, value, tone }) => [
        label,
        tone === "good" || tone === "note" ? value : `**${value}**`,
      ]),
    ),
  ];
  if (wear.findings.length > 0) blocks.push("### Found", messageList(wear.findings));
  blocks.push(...gapTables(wear.gap), ...wayTable(wear.wayOn), ...armTable(wear.strength));
  const assumed = [wear.stayOn?.caveat, wear.strength?.basis, ...(wear.weight?.caveats ?? [])].filter(
    (text) => text !== undefined,
  );
  if (assumed.length > 0)
    blocks.push("### What the answers rest on", assumed.map((text) => `- ${escaped(text)}`).join("\n"));
  return blocks;
}

/** The gap to each head, and on each side. */
function gapTables(gap: ReportWear["gap"]): string[] {
  if (!gap) return [];
  const heads = [
    ["bare head", gap.toBareHead],
    ["hair", gap.toHair],
    ["grown head", gap.toGrownHead],
  ] as const;
  return [
    "### Gap",
    table(
      ["from the inner surface to the", "least, mm", "p5", "median", "p95"],
      heads.flatMap(([name, figures]) =>
        figures ? [[name, figures.leastMm, figures.p5Mm, figures.medianMm, figures.p95Mm].map(String)] : [],
      ),
    ),
    table(
      ["side", "inner surface, cm²", "least to the hair, mm", "median", "rests, %"],
      gap.sides.map((one) => [
        one.side,
        one.areaCm2.toFixed(1),
        one.leastMm.toFixed(1),
        one.medianMm.toFixed(1),
        (100 * one.restingShare).toFixed(0),
      ]),
    ),
  ];
}

/** The ways on that were tried. */
const wayTable = (wayOn: ReportWear["wayOn"]): string[] =>
  wayOn
    ? [
        "### Ways on",
        table(
          ["way", "too small, mm", "over hair, mm", "room, mm", "tightest", "in the way"],
          wayOn.ways.map((way) => [
            way.way,
            way.tooSmallMm.toFixed(1),
            way.tooSmallOverHairMm.toFixed(1),
            way.roomMm.toFixed(1),
            way.tightest,
            way.parts.slice(0, 4).join(", "),
          ]),
        ),
      ]
    : [];

/** The weakest arms. */
const armTable = (strength: ReportWear["strength"]): string[] =>
  strength && strength.arms.length > 0
    ? [
        "### Weakest arms",
        table(
          [
            "arm",
            "length, mm",
            "load, N",
            "stress, MPa",
            "from its root, mm",
            "factor along layers",
            "across",
            "as printed",
          ],
          strength.arms.map((arm) => [
            arm.part,
            ...[arm.lengthMm, arm.loadN, arm.stressMPa, arm.fromRootMm].map(String),
            ...[arm.factorAlongLayers, arm.factorAcrossLayers, arm.factor].map((factor) => factor.toFixed(1)),
          ]),
        ),
      ]
    : [];
