import { primitives } from "@jscad/modeling";
import {
  alongHead,
  band,
  channel,
  cut,
  type DesignHead,
  headpiece,
  helix,
  hole,
  mirrored,
  onHead,
  type Parts,
  pulledBy,
  repeatedAround,
  resting,
  type Section,
  socket,
  solid,
  spiralAround,
  type Tip,
  type Tube,
  through,
  tube,
} from "../../src/design";

/** A design as plain data, so that a failing one can be made smaller and printed. */
export interface DesignSpec {
  readonly parts: readonly PartSpec[];
}

export type Place =
  | { readonly on: readonly [azimuth: number, elevation: number, lift: number] }
  | { readonly xyz: readonly [number, number, number] };

export type PathSpec =
  | { readonly kind: "through" | "pulled"; readonly points: readonly Place[]; readonly closed?: boolean }
  | {
      readonly kind: "helix";
      readonly from: Place;
      readonly radius: number;
      readonly rise: number;
      readonly turns: number;
    }
  | { readonly kind: "surface"; readonly points: readonly Place[] }
  /** Around the first tube of the design. */
  | { readonly kind: "spiral"; readonly away: number; readonly turns: number }
  /** From the first tube of the design, at an azimuth of it. */
  | { readonly kind: "from"; readonly azimuth: number; readonly points: readonly Place[] };

export interface TubeSpec {
  readonly path: PathSpec;
  readonly radius: number | readonly number[];
  readonly tip?: Exclude<Tip, { into: unknown }>;
  /** Its end grows into the first tube. */
  readonly into?: boolean;
  readonly section?: readonly (readonly [number, number])[];
  readonly twist?: number;
  readonly facing?: "out" | "up";
  readonly hollow?: { readonly wall: number; readonly drain?: number };
}

export type PartSpec =
  | ({ readonly kind: "tube"; readonly rests?: boolean; readonly copies?: "mirrored" | number } & TubeSpec)
  | {
      readonly kind: "band";
      readonly raised: number;
      readonly radius?: number;
      readonly width?: number;
      readonly thickness?: number;
    }
  | { readonly kind: "solid"; readonly shape: "ball" | "box"; readonly size: number; readonly at: Place }
  | {
      readonly kind: "cut";
      readonly how: "box" | "hole" | "socket" | "channel";
      readonly size: number;
      readonly at: Place;
      readonly fromFirst?: boolean;
    };

/** The design in the language. */
export const headpieceOf = ({ parts }: DesignSpec) =>
  headpiece({
    name: "Random piece",
    make({ head }) {
      const made: Parts[] = [];
      let first: Tube | undefined;
      for (const [i, spec] of parts.entries()) {
        const part = partOf(spec, `${spec.kind} ${i + 1}`, head, first);
        const list = Array.isArray(part) ? part : [part];
        if (!first && (spec.kind === "tube" || spec.kind === "band")) first = list[0] as Tube;
        made.push(part);
      }
      return made;
    },
  });

function partOf(spec: PartSpec, name: string, head: DesignHead, first: Tube | undefined): Parts {
  if (spec.kind === "band") {
    const { raised, radius, width, thickness } = spec;
    return band(name, head.girthLine.raised(raised), {
      ...(radius !== undefined && { radius }),
      ...(width !== undefined && { width }),
      ...(thickness !== undefined && { thickness }),
    });
  }
  if (spec.kind === "solid") return solid(name, shapeOf(spec.shape, spec.size), { at: pointOf(spec.at) });
  if (spec.kind === "cut") return cutOf(spec, name, first);
  const one = tube(name, pathOf(spec.path, first), {
    radius: spec.radius,
    ...(spec.tip !== undefined && { tip: spec.tip }),
    ...(spec.into && first && { endTip: { into: first } }),
    ...(spec.section && { section: spec.section as Section }),
    ...(spec.twist !== undefined && { twist: spec.twist }),
    ...(spec.facing && { facing: spec.facing }),
    ...(spec.hollow && { hollow: spec.hollow }),
  });
  const rested = spec.rests ? resting([one]) : [one];
  if (spec.copies === "mirrored") return [...rested, ...mirrored(rested)];
  return spec.copies === undefined ? rested : repeatedAround(rested, spec.copies);
}

function cutOf(spec: Extract<PartSpec, { kind: "cut" }>, name: string, first: Tube | undefined): Parts {
  const { size } = spec;
  const at = pointOf(spec.at);
  const from = spec.fromFirst && first ? { from: first } : {};
  switch (spec.how) {
    case "box":
      return cut(name, shapeOf("box", size), { at, ...from });
    case "hole":
      return hole(name, { at, diameter: size, ...from });
    case "socket":
      return socket(name, { at, diameter: size, depth: size / 2, ...from });
    case "channel":
      return first ? channel(name, first, { diameter: size, ...from }) : [];
  }
}

/** What a library that the design itself calls throws: the maker's own, told at its line. */
export class LibraryError extends Error {}

function shapeOf(shape: "ball" | "box", size: number) {
  try {
    return shape === "ball" ? primitives.sphere({ radius: size, segments: 20 }) : primitives.cube({ size });
  } catch (error) {
    throw new LibraryError((error as Error).message);
  }
}

const pointOf = (place: Place) =>
  "xyz" in place ? place.xyz : onHead({ azimuth: place.on[0], elevation: place.on[1], lift: place.on[2] });

function pathOf(spec: PathSpec, first: Tube | undefined) {
  switch (spec.kind) {
    case "through":
      return through(spec.points.map(pointOf), { closed: spec.closed ?? false });
    case "pulled":
      return pulledBy(spec.points.map(pointOf), { closed: spec.closed ?? false });
    case "helix": {
      const { radius, rise, turns } = spec;
      return helix({ from: pointOf(spec.from), radius, rise, turns });
    }
    case "surface":
      return alongHead(spec.points.map(pointOf));
    case "spiral":
      return first
        ? spiralAround(first, { away: spec.away, turns: spec.turns })
        : through([
            [0, 0, 150],
            [0, 0, 190],
          ]);
    case "from":
      return through([
        first ? first.atAzimuth(spec.azimuth) : ([0, 0, 150] as const),
        ...spec.points.map(pointOf),
      ]);
  }
}

/** A spec as a text that can be pasted into a test. */
export const specText = (spec: DesignSpec): string =>
  JSON.stringify(spec, (_, value) =>
    typeof value === "number" && !Number.isFinite(value) ? `<${value}>` : value,
  ).replace(/"<(-?\w+)>"/g, "$1");
