import type { Vec3 } from "../../geometry/vector";
import type { Message } from "../../message";
import type { WearMark } from "../../preview/protocol";

/** A finding as a mark at its place on the piece; none where it has no place. */
export function markOf({
  at,
  severity,
  text,
  part,
  file,
  line,
  column,
  length,
}: Message & { readonly at?: Vec3 }): Omit<WearMark, "check">[] {
  if (!at) return [];
  const isPlaced = file !== undefined && line !== undefined && column !== undefined;
  return [
    {
      at,
      severity,
      text,
      ...(part !== undefined && { part }),
      ...(isPlaced && { place: { file, line, column, ...(length !== undefined && { length }) } }),
    },
  ];
}
