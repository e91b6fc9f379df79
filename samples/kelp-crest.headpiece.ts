import { alongHead, band, choice, count, headpiece, length, onHead, resting, tube } from "anadem";

/** A blade of kelp across: broad and thin, thickest in the middle, blunt at the rims. */
const bladeOutline = Array.from({ length: 24 }, (_, i): [number, number] => {
  const turn = (i / 24) * 2 * Math.PI;
  return [Math.cos(turn), (0.2 + 0.1 * Math.cos(turn) ** 2) * Math.sin(turn)];
});

export default headpiece({
  name: "Kelp crest",
  wearer: "kelp-queen.wearer.json",
  printer: "workshop-300.printer.json",
  material: "pla.material.json",
  parameters: {
    stems: count(14, { least: 4, most: 40, help: "stems heaped over the head" }),
    blades: count(15, { least: 5, most: 30, help: "blades along the crest" }),
    height: length(96, { least: 30, most: 150, help: "of the tallest blade" }),
    tide: choice(["ebb", "flood"], { help: "which way the crest streams: back or forward" }),
  },
  make({ head, parameters: { stems, blades, height, tide }, random }) {
    const ring = band(
      "ring",
      head.girthLine.raised((share) => 6 + 8 * Math.cos(2 * Math.PI * share)),
      {
        radius: 5.5,
      },
    );
    const spine = band("spine", head.sagittalLine.part(0.02, 0.72), { width: 14, thickness: 4 });

    // Stems run from the brow over the crown to the back, and lie as they fall.
    const heap = Array.from({ length: stems }, (_, i) => {
      const own = random.named(`stem ${i}`);
      // Every other one ends in the place of one from the far side.
      const seat = i % 2 ? stems - (stems % 2) - i : i;
      const front = 116 * ((i + 0.5) / stems - 0.5);
      const back = 180 - 150 * ((seat + 0.5) / stems - 0.5);
      const way = alongHead(
        [
          ring.atAzimuth(front),
          onHead({ azimuth: 0.7 * front, elevation: own.between(38, 50) }),
          onHead({
            azimuth: front < 0 ? -90 : 90,
            elevation: 90 - own.between(2, 0.4 * Math.abs(front) + 4),
          }),
          onHead({ azimuth: 180 + 0.8 * (back - 180), elevation: own.between(38, 50) }),
          ring.atAzimuth(back),
        ],
        { lift: 4 },
      );
      return tube(`stem ${i + 1}`, way, { radius: [4.4, 4, 3.6, 4, 4.4] });
    });

    const stream = tide === "ebb" ? -1 : 1;
    const crest = spine.path.spread(blades, { from: 0.1, to: 0.92 }).map((foot, i) => {
      const own = random.named(`blade ${i}`);
      const tall =
        height * (0.42 + 0.58 * Math.sin(Math.PI * (0.15 + 0.8 * foot.share))) * own.between(0.85, 1.05);
      const side = (i % 2 ? 1 : -1) * own.between(2, 10);
      const blade = tube(
        `blade ${i + 1}`,
        [
          foot,
          foot.offset({ out: 0.4 * tall, side: 0.4 * side }).moved({ forward: 0.05 * stream * tall }),
          foot.offset({ out: 0.78 * tall, side }).moved({ forward: 0.24 * stream * tall }),
          foot.offset({ out: 0.95 * tall, side: 1.4 * side }).moved({ forward: 0.55 * stream * tall }),
        ],
        {
          section: bladeOutline,
          facing: [1, 0, 0],
          twist: (i % 2 ? 1 : -1) * 55,
          // Ruffled rims, broadest in the middle.
          radius: (share) => 4 + 9.5 * Math.sin(Math.PI * share ** 0.8) + 0.8 * Math.sin(share * 34),
        },
      );
      // A float at the foot of each blade.
      const float = tube(`float ${i + 1}`, [foot, foot.offset({ out: 0.26 * tall, side: 0.2 * side })], {
        radius: [3.5, 4],
        endTip: { bulb: 7 },
      });
      return [blade, float];
    });
    return [ring, spine, resting(heap, { over: spine, sink: 0.2, pinned: "both" }), crest];
  },
});
