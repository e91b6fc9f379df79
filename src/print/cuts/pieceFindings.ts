import { atPart } from "../../checks/finding";
import type { Printer } from "../../checks/printer";
import type { Part } from "../../design/part";
import type { PlanFinding } from "../planFinding";
import type { PiecePlan } from "./piecePlan";

/** What is to be told of a headpiece in pieces: how many, which joints hold by glue alone, what does not fit. */
export function pieceFindings(
  { pieces, joints, assembly }: Pick<PiecePlan, "pieces" | "joints" | "assembly">,
  parts: readonly Part[],
  printer: Pick<Printer, "name">,
): PlanFinding[] {
  const findings: PlanFinding[] = [];
  const size = (values: readonly number[]) => values.map((value) => Math.ceil(value)).join(" × ");
  if (pieces.length > 1) {
    findings.push({
      topic: "pieces",
      id: "cut-into-pieces",
      severity: "note",
      text: `cut into ${pieces.length} pieces for ${printer.name}: ${pieces
        .map(({ name, size: extents }) => `${name} (${size(extents)} mm)`)
        .join("; ")}`,
      suggestion: "print and join them in the order of assembly",
      value: pieces.length,
      unit: "pieces",
    });
  }
  for (const piece of pieces) {
    if (piece.fits) continue;
    findings.push({
      topic: "pieces",
      id: "piece-does-not-fit",
      severity: "warning",
      text: `no cut was found that makes ${piece.name} (${size(piece.size)} mm) fit ${printer.name}`,
      suggestion: "take a larger printer, or make what lies there thinner or shorter",
      value: Math.max(...piece.size),
      unit: "mm",
      ...atPart(parts[piece.parts[0]]),
    });
  }
  const glued = joints
    .filter(({ kind }) => kind === "glue")
    .map((joint) => ({ ...joint, letters: joint.pieces.map((piece) => pieces[piece].letter).join("–") }));
  if (glued.length > 0) {
    const told = glued.map(({ letters, area }) => `${letters} (${area.toFixed(0)} mm²)`).join(", ");
    findings.push({
      topic: "pieces",
      id: "glue-only-joint",
      severity: "warning",
      text:
        glued.length === 1
          ? `the joint ${told} has no room for a pin with a wall round it: it holds by glue alone`
          : `${glued.length} joints have no room for a pin with a wall round it and hold by glue alone: ${told}`,
      suggestion: "mark both sides before they are taken off the plate, and glue them first",
      value: glued.length,
      unit: "joints",
      at: glued[0].at,
      ...atPart(parts[glued[0].parts[0]]),
    });
  }
  for (const joint of joints) {
    const [a, b] = joint.pieces.map((piece) => pieces[piece].name);
    if (joint.kind === "pin" && !joint.isUnique) {
      findings.push({
        topic: "pieces",
        id: "pin-not-unique",
        severity: "warning",
        text: `the pin between ${a} and ${b} goes into another socket too`,
        suggestion: "mark both sides of the joint before they are taken off the plate",
        value: joint.area,
        unit: "mm²",
        at: joint.at,
        ...atPart(parts[joint.parts[0]]),
      });
    }
  }
  for (const step of assembly) {
    if (!step.isFlexed) continue;
    findings.push({
      topic: "pieces",
      id: "piece-must-be-flexed",
      severity: "warning",
      text: `${pieces[step.piece].name} closes a ring and its ${step.joints.length} joints point different ways: it must be flexed to go on`,
      suggestion: "warm or spring it a little, or cut off one of its pegs and glue that joint",
      value: step.joints.length,
      unit: "joints",
      at: joints[step.joints[0]].at,
      ...atPart(parts[joints[step.joints[0]].parts[0]]),
    });
  }
  return findings;
}
