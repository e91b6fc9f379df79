import { writeStl } from "../export/stl";
import { auditStl, type StlAudit } from "../export/stlAudit";
import { MessageError } from "../message";
import type { Finished } from "./finished";
import type { Weighed } from "./weighing";

/** An STL that was read back and found good. */
export interface JudgedStl {
  readonly bytes: Uint8Array;
  readonly audit: StlAudit;
}

/** Share by which the volume of the file may differ from that of the solid. */
const volumeTolerance = 1e-4;

/**
 * The STL of a finished piece, judged as its reader will find it: one closed piece, outward, of the solid's volume.
 * Throws a `MessageError` where it is not.
 */
export function judgedStl({ result, solid }: Finished, { body }: Weighed): JudgedStl {
  const bytes = writeStl(solid.mesh, result.name);
  const audit = auditStl(bytes);
  const off = Math.abs(audit.volumeMm3 / body.volume - 1);
  if (audit.closed && audit.pieces === 1 && off < volumeTolerance) return { bytes, audit };
  const { openEdges, overSharedEdges, misorientedEdges, pieces } = audit;
  throw new MessageError([
    {
      id: "stl-not-closed",
      severity: "error",
      text: `the STL of "${result.name}" would not be one closed piece: ${openEdges} open edges, ${overSharedEdges} shared too often, ${misorientedEdges} against their neighbours, ${pieces} pieces, volume off by ${(100 * off).toFixed(3)} %`,
      suggestion: "shift a part by a little: two surfaces may lie exactly on each other",
    },
  ]);
}
