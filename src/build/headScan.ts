import { readFileSync } from "node:fs";
import type { TriangleMesh } from "../geometry/mesh";
import { readMeshBytes } from "../geometry/meshFile";
import type { HeadForm } from "../head/headForm";
import { placeHeadScan } from "../head/scan";
import { type Message, MessageError } from "../message";

/** A real head, brought into the head frame. */
export interface HeadScan {
  readonly mesh: TriangleMesh;
  /** What was found of it: how it was placed, what it measures, what is doubtful. */
  readonly messages: readonly Message[];
}

/**
 * Reads a real head's mesh (STL or OBJ, any unit and pose) and brings it into the head frame by its fit to the wearer's
 * form.
 * @throws MessageError when the file cannot be read or holds no head
 */
export function readHeadScan(file: string, form: HeadForm): HeadScan {
  let bytes: Uint8Array;
  try {
    bytes = readFileSync(file);
  } catch (error) {
    throw new MessageError([
      {
        id: "file-unreadable",
        severity: "error",
        text: `the head's file ${file} cannot be read: ${(error as Error).message}`,
        suggestion: "give an STL or OBJ of a head",
        file,
      },
    ]);
  }
  const placed = placeHeadScan(readMeshBytes(bytes, file), form);
  const { girth, length, breadth } = placed.measured;
  const measured = [
    ["girth", girth],
    ["length", length],
    ["breadth", breadth],
  ]
    .flatMap(([name, value]) => (typeof value === "number" ? [`${name} ${value.toFixed(0)} mm`] : []))
    .join(", ");
  return {
    mesh: placed.mesh,
    messages: [
      {
        id: "head-placed",
        severity: "note",
        text: `checked on the head in ${file}: taken as ${placed.unit}; it measures ${measured}; it lies ${placed.residual.median.toFixed(1)} mm off the form of the measurements (median above the girth)`,
        file,
      },
      ...placed.doubts.map(
        (text): Message => ({
          id: "head-doubtful",
          severity: "warning",
          text,
          suggestion: "compare its measures with the wearer's, or give the head in mm in the head frame",
          file,
        }),
      ),
    ],
  };
}
