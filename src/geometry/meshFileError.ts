import { MessageError } from "../message";

/** More triangles than this are refused. */
export const mostTriangles = 5_000_000;

/** Where in a file of a mesh something is wrong: the line of a text, counted from 1. */
export interface MeshFilePlace {
  readonly line?: number;
}

/** An error about the file of a mesh: what is wrong and where, and what would be right. */
export function meshFileError(
  id: string,
  file: string,
  text: string,
  suggestion: string,
  { line }: MeshFilePlace = {},
): MessageError {
  const place = line === undefined ? { file } : { file, line, column: 1 };
  return new MessageError([{ id, severity: "error", ...place, text, suggestion }]);
}

export const tooManyTriangles = (file: string, count: number, place?: MeshFilePlace): MessageError =>
  meshFileError(
    "mesh-too-large",
    file,
    `The mesh "${file}" has ${count === Infinity ? "more" : `${count} triangles, more`} than ${mostTriangles} triangles.`,
    "Export it coarser: 100,000 to 300,000 triangles hold all of a head that matters here.",
    place,
  );
