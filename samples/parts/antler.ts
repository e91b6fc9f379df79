import { type Parts, type Point, type Random, spiralAround, type Tube, tube } from "anadem";

/** What an antler grows from. */
export interface Antler {
  /** Where it leaves the head, on the wearer's right. */
  root: Point;
  /** From root to crown, mm. */
  height: number;
  /** Tines along the beam, beside the two that it ends in. */
  tines: number;
  /** Radius at the root, mm. */
  thickness: number;
  random: Random;
}

/** Nine shallow flutes that wind up the beam. */
const fluted = Array.from({ length: 54 }, (_, i): [number, number] => {
  const turn = (i / 54) * 2 * Math.PI;
  const away = 0.97 + 0.05 * Math.cos(9 * turn);
  return [away * Math.cos(turn), away * Math.sin(turn)];
});

/**
 * A right antler, tips rounded to 2.4 mm: the beam, and all its parts. Put it under `group` or give `mirrored` of it
 * for the left.
 */
export function antler({ root, height, tines, thickness, random }: Antler): { beam: Tube; parts: Parts } {
  const tip = { point: 2.4, over: 18 };
  const beam = tube(
    "beam",
    [
      root.lifted(-6),
      root.moved({ right: 0.22 * height, up: 0.2 * height, forward: -0.16 * height }),
      root.moved({ right: 0.46 * height, up: 0.52 * height, forward: -0.2 * height }),
      root.moved({ right: 0.44 * height, up: 0.83 * height, forward: 0.02 * height }),
      root.moved({ right: 0.3 * height, up: height, forward: 0.16 * height }),
    ],
    { section: fluted, twist: 140, radius: (share) => thickness * (1 - 0.55 * share ** 1.2), endTip: tip },
  );
  const burr = tube("burr", spiralAround(beam.path.part(0.05, 0.085), { away: thickness, turns: 3 }), {
    radius: 2.6,
  });
  const grown = Array.from({ length: tines + 1 }, (_, i) => {
    const last = i === tines;
    const fork = beam.at(last ? 0.86 : 0.14 + (0.62 * i) / Math.max(1, tines - 1));
    const reach = height * (last ? 0.22 : 0.4 - (0.14 * i) / tines) * random.between(0.92, 1.08);
    const [forward, up] = last ? [-0.75, 0.7] : [0.72 - 0.1 * i, 0.45 + 0.15 * i];
    const thick = thickness * (0.72 - 0.26 * fork.share);
    return tube(
      `tine ${i + 1}`,
      [
        fork,
        fork.moved({ forward: 0.55 * forward * reach, up: 0.22 * up * reach, right: 0.1 * reach }),
        fork.moved({ forward: forward * reach, up: up * reach, right: 0.12 * reach }),
      ],
      { radius: [thick, 0.82 * thick, 0.6 * thick], endTip: tip },
    );
  });
  return { beam, parts: [beam, burr, grown] };
}
