import { dirname, relative, sep } from "node:path";
import type { Message } from "../message";

/** Files as seen from the design's folder, so that a report reads the same on every machine. */
export function besideDesign<M extends Message>(message: M, design: string): M {
  const near = (file: string) => relative(dirname(design), file).split(sep).join("/");
  return {
    ...message,
    ...(message.file !== undefined && { file: near(message.file) }),
    ...(message.notes && {
      notes: message.notes.map((note) => ({
        ...note,
        ...(note.file !== undefined && { file: near(note.file) }),
      })),
    }),
  };
}
