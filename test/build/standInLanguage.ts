import type { DesignHeader, DesignResult, Part } from "../../src/design/part";
import { MessageError, type Place } from "../../src/message";

/**
 * The least that a language can be, so that the isolation is tested apart from the real one: a headpiece is an
 * object with a name and `make`, and a tube only remembers its points and its line.
 */
let place: () => Place | undefined = () => undefined;

export function setPlaceResolver(resolver: () => Place | undefined): void {
  place = resolver;
}

interface Definition {
  name: string;
  make: (input: unknown) => Part[];
  origin?: Place;
}

export const headpiece = (definition: Definition): Definition => {
  const origin = place();
  return { ...definition, ...(origin && { origin }) };
};

export function tube(name: string, points: [number, number, number][]): Part {
  const origin = place();
  if (points.length < 2) {
    throw new MessageError([
      { id: "short-path", severity: "error", text: `"${name}" has ${points.length} points`, ...origin },
    ]);
  }
  return {
    kind: "tube",
    name,
    ...(origin && { origin }),
    shape: {
      path: { kind: "through", points, closed: false },
      radius: { shares: [0], radii: [1] },
      section: { kind: "circle" },
      twist: 0,
      startTip: { kind: "flat" },
      endTip: { kind: "flat" },
    },
  };
}

export function solid(name: string, vertices: number): Part {
  const mesh = { positions: new Float32Array(3 * vertices).fill(0.5), triangles: new Uint32Array(3) };
  return { kind: "solid", name, mesh };
}

/** Microseconds that one look-up of the calling line takes: the best of 20, as others use the machine too. */
export function lookUpTime(): number {
  let best = Number.POSITIVE_INFINITY;
  for (let round = 0; round < 20; round++) {
    const start = process.hrtime.bigint();
    for (let i = 0; i < 100; i++) place();
    best = Math.min(best, Number(process.hrtime.bigint() - start) / 1e3 / 100);
  }
  return best;
}

export function readHeader(design: unknown): DesignHeader {
  const { name, make, origin } = design as Definition;
  if (typeof make !== "function") throw new Error("the default export is not a headpiece");
  return {
    name,
    print: {},
    parameters: [],
    ...(origin && { origin }),
  };
}

export function runDesign(design: unknown, input: { values: DesignResult["values"] }): DesignResult {
  const parts = (design as Definition).make(input);
  if (!Array.isArray(parts)) throw new Error("make must return its parts at once");
  return { ...readHeader(design), values: input.values, parts };
}
