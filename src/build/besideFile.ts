import { basename, dirname, relative, sep } from "node:path";
import type { Message } from "../message";

/** Files as seen from the folder of a file, so that a report reads the same on every machine. */
export function besideFile<M extends Message>(message: M, from: string): M {
  const near = (file: string) => relative(dirname(from), file).split(sep).join("/") || basename(file);
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
