import { primitives } from "@jscad/modeling";
import {
  alongHead,
  band,
  channel,
  combSlot,
  count,
  headpiece,
  hole,
  length,
  mirrored,
  onHead,
  socket,
  solid,
  through,
  toggle,
  tube,
} from "anadem";
import { antler } from "./parts/antler";

const pearl = (radius: number) => primitives.geodesicSphere({ radius, frequency: 18 });

export default headpiece({
  name: "Drowned stag",
  wearer: "drowned-stag.wearer.json",
  printer: "workshop-300.printer.json",
  material: "petg.material.json",
  ease: { offset: 1.6 },
  parameters: {
    height: length(190, { least: 100, most: 230, help: "of the antlers, from root to crown" }),
    tines: count(4, { least: 1, most: 7, help: "on each beam" }),
    stones: count(3, {
      least: 0,
      most: 5,
      help: "sockets of 6 mm on each side of the brow, for glued stones",
    }),
    combs: toggle(true, { help: "slots for hair combs at both sides" }),
    wire: toggle(true, { help: "a channel for a light wire up each beam" }),
  },
  make({ head, parameters: { height, tines, stones, combs, wire }, random }) {
    const circlet = band("circlet", head.girthLine.raised(10), { width: 20, thickness: 4.4 });
    const root = onHead({ azimuth: 46, elevation: 42 });
    const { beam, parts } = antler({ root, height, tines, thickness: 9.5, random });
    const yoke = band(
      "yoke",
      alongHead([circlet.atAzimuth(64), root, root.mirrored(), circlet.atAzimuth(-64)]),
      { width: 18, thickness: 4.4 },
    );

    // Weed hangs from each beam down to the circlet, with pearls caught in it.
    const weed = [0.3, 0.5].map((share, i) => {
      const from = beam.at(share);
      const to = circlet.atAzimuth(86 + 26 * i);
      const strand = tube(
        `weed ${i + 1}`,
        [
          from,
          from.towards(to, 0.4).moved({ up: -14, right: 9 }),
          from.towards(to, 0.75).moved({ up: -10, right: 10 }),
          to,
        ],
        { radius: [3.4, 2.6, 2.6, 3.2] },
      );
      const beads = strand.path
        .spread(5, { from: 0.24, to: 0.76 })
        .map((at, k) => solid(`bead ${i + 1}.${k + 1}`, pearl(k % 2 ? 4 : 5), { at, facing: "along" }));
      return [strand, beads];
    });

    const light = wire
      ? [
          channel(
            "light wire",
            through([
              root.lifted(-12),
              beam.at(0.08),
              beam.at(0.25),
              beam.at(0.42),
              beam.surfaceAt(0.52, 90).lifted(4),
            ]),
            { diameter: 2.6 },
          ),
        ]
      : [];
    const slots = combs
      ? [
          combSlot("comb", {
            at: circlet.atAzimuth(98),
            width: 34,
            thickness: 2.4,
            depth: 2.6,
            from: circlet,
          }),
        ]
      : [];
    const ribbon = hole("ribbon", { at: circlet.atAzimuth(170), diameter: 5, from: circlet });
    const seats = head.around(
      stones,
      (azimuth, i) => {
        const at = circlet.surfaceAt(circlet.atAzimuth(azimuth));
        return socket(`stone ${i + 1}`, { at, diameter: 6, depth: 2, from: circlet });
      },
      { from: 24, to: 54 },
    );
    const half = [parts, weed, light, slots, ribbon, seats];

    const brow = circlet.atAzimuth(0);
    const plaque = solid(
      "plaque",
      primitives.roundedCuboid({ size: [46, 30, 9], roundRadius: 3.8, segments: 24 }),
      {
        at: brow.lifted(4),
      },
    );
    const great = socket("great stone", { at: brow.lifted(8.6), diameter: 18, depth: 3.5, from: plaque });
    const setting = tube(
      "setting",
      Array.from({ length: 24 }, (_, i) => {
        const turn = (i / 24) * 2 * Math.PI;
        return brow.lifted(8.2).moved({ right: 11 * Math.cos(turn), up: 11 * Math.sin(turn) });
      }).concat([brow.lifted(8.2).moved({ right: 11 })]),
      { radius: 2 },
    );
    return [circlet, yoke, half, mirrored(half), plaque, great, setting];
  },
});
