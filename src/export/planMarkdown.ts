import { escaped, messageList, table } from "./markdown";
import type { ReportPlan } from "./planReport";
import { orientationFigures, planLines } from "./planSentences";
import { inWords } from "./reportSentences";

/** The plan of a print as blocks of Markdown. */
export function planBlocks(plan: ReportPlan): string[] {
  const blocks = [
    "## Print plan",
    table(
      ["print", ""],
      planLines(plan).map(({ label, value, tone }) => [
        label,
        tone === "good" || tone === "note" ? value : `**${value}**`,
      ]),
    ),
    escaped(
      `${plan.settingsName}: layers of ${plan.settings.layerHeight} mm, ${plan.settings.shells} shells, ${plan.settings.infill} % infill, supports ${plan.settings.supportShare} % under ${plan.settings.contactLayers} dense layers; ${plan.printer}, ${plan.material}. ${plan.hoursBasis}`,
    ),
  ];
  if (plan.findings.length > 0) blocks.push("### Found about the print", messageList(plan.findings));
  if (plan.orientations.length > 0) {
    const figures = orientationFigures(plan);
    const labels = [...new Set(figures.flatMap((row) => row.map(({ label }) => label)))];
    blocks.push(
      "### Ways up",
      table(
        ["", "", ...labels],
        plan.orientations.map((one, i) => [
          one.isChosen ? `**${one.names.join(", ")}**` : one.names.join(", "),
          one.words,
          ...labels.map((label) => figures[i].find((figure) => figure.label === label)?.value ?? ""),
        ]),
      ),
    );
  }
  const [plate] = plan.plates;
  blocks.push(
    "### Time and filament",
    table(
      ["", "hours", "grams"],
      [...new Set([...Object.keys(plate.hoursByKind), ...Object.keys(plate.gramsByKind)])].map((kind) => {
        const sum = (of: (one: ReportPlan["plates"][number]) => number | undefined) =>
          plan.plates.reduce((total, one) => total + (of(one) ?? 0), 0);
        return [
          inWords(kind),
          sum(({ hoursByKind }) => hoursByKind[kind]).toFixed(2),
          plate.gramsByKind[kind] === undefined ? "" : sum(({ gramsByKind }) => gramsByKind[kind]).toFixed(1),
        ];
      }),
    ),
  );
  if (plan.supports.parts.length > 0) {
    blocks.push(
      "### What causes supports",
      table(
        ["part", "volume, cm³", "touched, cm²", "columns"],
        plan.supports.parts.map(({ part, volumeCm3, contactCm2, columns }) => [
          part,
          String(volumeCm3),
          String(contactCm2),
          String(columns),
        ]),
      ),
    );
  }
  const { pieces } = plan;
  if (pieces && pieces.pieces.length > 1) {
    blocks.push(
      "### Pieces",
      table(
        ["piece", "size, mm", "volume, cm³", "plate"],
        pieces.pieces.map(({ name, sizeMm, volumeCm3, plate: number }) => [
          name,
          sizeMm.join(" × "),
          String(volumeCm3),
          String(number),
        ]),
      ),
      pieces.assembly.map((step, i) => `${i + 1}. ${escaped(step)}`).join("\n"),
    );
  }
  return blocks;
}
