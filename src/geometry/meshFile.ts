import type { TriangleMesh } from "./mesh";
import { meshFileError } from "./meshFileError";
import { readObj } from "./objReading";
import { readAsciiStl, readBinaryStl, statedStlBytes } from "./stlReading";

/** How a file of a mesh is written. */
export type MeshFormat = "binary STL" | "ASCII STL" | "OBJ";

/**
 * A mesh from the bytes of a file: STL, binary or text, or OBJ. What it is the content says, and where that leaves it
 * open the name. Positions in the file's own units and frame; triangles as they stand, dirty or not. Vertices that are
 * the same to the last bit are one.
 * @param name of the file, for messages and as a hint at its format
 * @throws MessageError that names what is wrong and where (byte or line), and what would be right
 */
export function readMeshBytes(bytes: Uint8Array, name: string): TriangleMesh {
  const mesh = readAs(meshFormatOf(bytes, name), bytes, name);
  if (mesh.triangles.length > 0) return mesh;
  throw meshFileError(
    "mesh-empty",
    name,
    `The mesh "${name}" has no triangle.`,
    "Export the surface of the head, not an empty selection.",
  );
}

function readAs(format: MeshFormat, bytes: Uint8Array, name: string): TriangleMesh {
  if (format === "OBJ") return readObj(bytes, name);
  return format === "ASCII STL" ? readAsciiStl(bytes, name) : readBinaryStl(bytes, name);
}

/**
 * What a file is by its content, else by its name.
 * @throws MessageError when it is none of the formats
 */
export function meshFormatOf(bytes: Uint8Array, name: string): MeshFormat {
  if (bytes.length === 0) {
    throw meshFileError("mesh-empty", name, `The mesh "${name}" has no bytes.`, "Copy or export it again.");
  }
  // A binary STL may begin with "solid" too: its length tells.
  if (statedStlBytes(bytes) === bytes.length) return "binary STL";
  const beginning = asciiOf(bytes, 65_536);
  const isText = !beginning.slice(0, 1024).includes("\0");
  if (isText && /^(\xef\xbb\xbf)?\s*solid(\s|$)/i.test(beginning)) return "ASCII STL";
  if (isText && /^[^\S\r\n]*(v[^\S\r\n]+[-+.\d]|f[^\S\r\n]+[-\d])/m.test(beginning)) return "OBJ";
  const other = otherFormats.find(([start]) => beginning.startsWith(start));
  const ending = /\.([^.]*)$/.exec(name)?.[1].toLowerCase();
  if (other === undefined && ending === "stl") return "binary STL";
  if (other === undefined && isText && ending === "obj") return "OBJ";
  throw meshFileError(
    "mesh-unknown-format",
    name,
    `The file "${name}" is neither STL nor OBJ${other === undefined ? "" : `: it begins as ${other[1]}`}.`,
    "Export the head as binary STL, or as OBJ.",
  );
}

/** How other files begin that a mesh may come in. */
const otherFormats: readonly (readonly [start: string, what: string])[] = [
  ["ply", "PLY"],
  ["PK\x03\x04", "a packed file (ZIP, 3MF)"],
  ["glTF", "binary glTF"],
  ["OFF", "OFF"],
  ["\x1f\x8b", "a packed file (gzip)"],
  ["\xff\xfe", "text in UTF-16"],
  ["\xfe\xff", "text in UTF-16"],
];

function asciiOf(bytes: Uint8Array, most: number): string {
  let text = "";
  const step = 4096;
  for (let at = 0; at < Math.min(most, bytes.length); at += step) {
    text += String.fromCharCode(...bytes.subarray(at, Math.min(at + step, most, bytes.length)));
  }
  return text;
}
