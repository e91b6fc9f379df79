declare module "@jscad/stl-serializer" {
  import type { Geom3 } from "@jscad/modeling/src/geometries/types";

  /** Parts of one file in order, as buffers (binary) or as one text. */
  export function serialize(options: { binary: true }, ...solids: Geom3[]): ArrayBuffer[];
  export function serialize(options: { binary: false }, ...solids: Geom3[]): string[];
  export const mimeType: string;
}
