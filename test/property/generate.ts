import type { Random } from "../../src/design/random";
import type { DesignSpec, PartSpec, PathSpec, Place, TubeSpec } from "./designSpec";

/** Random designs: most of them sound, many of them strange, some of them hostile. */

const hostileNumbers = [
  Number.NaN,
  Number.POSITIVE_INFINITY,
  -1,
  -1e9,
  0,
  -0,
  1e-12,
  1e-5,
  1e5,
  1e9,
  1e300,
  499.9,
];

export function randomDesign(random: Random): DesignSpec {
  const strangeness = random.oneOf([0, 0, 0, 0.15, 0.5]);
  const count = random.share() < 0.92 ? random.whole(1, 4) : random.whole(5, 12);
  const parts: PartSpec[] = [];
  if (random.share() < 0.85) parts.push(ring(random));
  while (parts.length < count) parts.push(part(random, strangeness));
  const design = { parts };
  return random.share() < 0.3 ? withHostileNumber(design, random) : design;
}

function ring(random: Random): PartSpec {
  const raised = random.between(0, 25);
  return random.share() < 0.6
    ? { kind: "band", raised, radius: random.between(3, 8) }
    : { kind: "band", raised, width: random.between(8, 30), thickness: random.between(2, 5) };
}

function part(random: Random, strangeness: number): PartSpec {
  const kind = random.share();
  if (kind < 0.68) {
    const tube: PartSpec = { kind: "tube", ...tubeSpec(random, strangeness) };
    const copies = random.share();
    return {
      ...tube,
      ...(random.share() < 0.08 && { rests: true }),
      ...(copies < 0.1 && { copies: "mirrored" as const }),
      ...(copies > 0.94 && { copies: random.whole(2, 3) }),
    };
  }
  if (kind < 0.8) {
    const size = random.between(2, 12);
    return { kind: "solid", shape: random.oneOf(["ball", "box"]), size, at: place(random, strangeness) };
  }
  return {
    kind: "cut",
    how: random.oneOf(["box", "hole", "socket", "channel"]),
    size: random.between(1, 9),
    at: place(random, 0),
    ...(random.share() < 0.4 && { fromFirst: true }),
  };
}

function tubeSpec(random: Random, strangeness: number): TubeSpec {
  const radius = random.between(1.5, 8);
  const path = pathSpec(random, strangeness);
  const closed = "closed" in path && path.closed === true;
  const curly = random.share() < strangeness;
  const thick = curly ? radius * random.between(1, 4) : radius;
  return {
    path,
    radius:
      random.share() < 0.5
        ? thick
        : Array.from({ length: random.whole(2, 5) }, () => thick * random.between(0.4, 1)),
    ...(!closed && random.share() < 0.5 && { tip: tip(random, thick) }),
    ...(!closed && random.share() < (path.kind === "from" ? 0.1 : 0.75) && { into: true }),
    ...(random.share() < 0.3 && { section: section(random, strangeness) }),
    ...(random.share() < 0.2 && { twist: random.between(-360, 360) }),
    ...(random.share() < 0.15 && { facing: random.oneOf(["out", "up"] as const) }),
    ...(random.share() < 0.12 && {
      hollow: {
        wall: random.between(0.4, 2.5),
        ...(random.share() < 0.5 && { drain: random.between(0.5, 3) }),
      },
    }),
  };
}

function tip(random: Random, radius: number): NonNullable<TubeSpec["tip"]> {
  return random.oneOf([
    "round",
    "flat",
    { point: radius * random.between(0.05, 0.4) },
    { point: radius * random.between(0.05, 0.4), over: random.between(1, 60) },
    { flare: radius * random.between(1, 2.5) },
    { bulb: radius * random.between(1, 2) },
  ]);
}

/** Outlines from stars to bow ties: not all of them may be swept. */
function section(random: Random, strangeness: number): [number, number][] {
  const points = random.whole(3, 9);
  return Array.from({ length: points }, (_, i): [number, number] => {
    const wild = random.share() < strangeness ? random.between(-2, 2) : 0;
    const angle = (2 * Math.PI * i) / points + wild;
    const out = random.between(0.4, 1.1);
    return [out * Math.cos(angle), out * Math.sin(angle)];
  });
}

function pathSpec(random: Random, strangeness: number): PathSpec {
  const kind = random.share();
  if (kind < 0.55) {
    const points = Array.from({ length: random.whole(1, 3) }, () => place(random, strangeness));
    return { kind: "from", azimuth: random.between(-180, 180), points };
  }
  if (kind < 0.75) return wander(random, strangeness);
  if (kind < 0.82) {
    return {
      kind: "helix",
      from: place(random, strangeness),
      radius: random.between(2, 20),
      rise: random.between(0, 20),
      turns: random.between(-2, 2),
    };
  }
  if (kind < 0.9) {
    return { kind: "surface", points: Array.from({ length: random.whole(2, 4) }, () => place(random, 0)) };
  }
  return { kind: "spiral", away: random.between(0, 8), turns: random.between(-5, 5) };
}

/** A walk: smooth, or with strangeness curled up, doubled back, or with points that coincide. */
function wander(random: Random, strangeness: number): PathSpec {
  const points: Place[] = [];
  let [azimuth, elevation, lift] = [random.between(-180, 180), random.between(0, 60), random.between(0, 30)];
  const count = random.whole(2, 7);
  for (let i = 0; i < count; i++) {
    points.push({ on: [azimuth, elevation, lift] });
    const leap = random.share() < strangeness ? random.oneOf([0, 0.02, 0.2, 4]) : 1;
    azimuth += leap * random.between(-30, 30);
    elevation = Math.min(88, elevation + leap * random.between(-10, 20));
    lift = Math.max(-25, lift + leap * random.between(-15, 20));
    if (random.share() < strangeness && points.length > 1) points.push(points[points.length - 2]);
  }
  return {
    kind: random.oneOf(["through", "pulled"] as const),
    points,
    ...(random.share() < 0.25 && { closed: true }),
  };
}

function place(random: Random, strangeness: number): Place {
  const strange = random.share() < strangeness;
  if (strange && random.share() < 0.3) {
    return { xyz: [random.between(-120, 120), random.between(-120, 120), random.between(-60, 250)] };
  }
  // Strange ones lie deep in the head or far from it.
  const lift = strange ? random.oneOf([-90, -30, 200]) : random.between(-2, 60);
  return { on: [random.between(-180, 180), random.between(-5, 75), lift] };
}

/** The same design with one of its numbers replaced. */
function withHostileNumber(design: DesignSpec, random: Random): DesignSpec {
  let count = 0;
  visit(design, (value) => {
    count++;
    return value;
  });
  const at = random.whole(0, count - 1);
  const hostile = random.oneOf(hostileNumbers);
  let index = 0;
  return visit(design, (value) => (index++ === at ? hostile : value)) as DesignSpec;
}

function visit(value: unknown, change: (value: number) => number): unknown {
  if (typeof value === "number") return change(value);
  if (Array.isArray(value)) return value.map((one) => visit(one, change));
  if (typeof value !== "object" || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([key, one]) => [key, visit(one, change)]));
}
