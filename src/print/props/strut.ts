import type { Vec3 } from "../../geometry/vector";

/** A level section of a strut: a circle seen along the strut. */
export interface StrutRing {
  readonly at: Vec3;
  /** mm */
  readonly radius: number;
}

/** A body of a prop, from its upper end down; plate's frame. */
export interface Strut {
  /** From a neck to where it joins another, what carries several or stands by itself, or what stays two of these. */
  readonly kind: "twig" | "trunk" | "brace";
  readonly rings: readonly StrutRing[];
}

/** Where a prop touches the piece. Plate's frame. */
export interface PropNeck {
  /** Name of the prop, its own or the proposed one. */
  readonly name: string;
  /** Index of the part that it holds up, −1 for none. */
  readonly part: number;
  readonly at: Vec3;
  /** Unit vector away from the piece. */
  readonly along: Vec3;
  /** mm */
  readonly diameter: number;
}

/** Where a prop stands, mm: on the plate, or on the piece below. */
export interface PropFoot {
  readonly x: number;
  readonly y: number;
  /** Over the plate; 0: on it. */
  readonly z: number;
  readonly radius: number;
  /** How deep it goes into the piece that it stands on; 0 on the plate. */
  readonly depth: number;
}
