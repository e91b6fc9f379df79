import type { PathData, RadiusData } from "./tubeShape";
import type { Vec3 } from "./vector";

/** A tube to be laid down, as a chain of thick points. */
export interface RestingTube {
  readonly path: PathData;
  readonly radius: RadiusData;
  /** Share of the radius by which it sinks into the surface and into the tubes below, so that they grow together. */
  readonly sink: number;
  /** Ends that stay where they are. */
  readonly pinned: "none" | "start" | "end" | "both";
  /** An obstacle: others lie over it, it stays as it is. */
  readonly fixed?: boolean;
}

/** Distance of a point from the surface that tubes lie on (negative inside), mm, and the outward unit normal there. */
export type RestingSurface = (point: Vec3) => { readonly distance: number; readonly normal: Vec3 };

/** A tube whose centre line is this many radii over the surface stands free: others may lie under it. */
export const freeHeight = 4;
