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
    height: length(88, { least: 30, most: 150, help: "of the tallest blade" }),
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

    // Stems run from the brow over the crown to the back of the head and lie where they fall.
    const heap = Array.from({ length: stems }, (_, i) => {
      const own = random.named(`stem ${i}`);
      const [front, back] = [own.between(-58, 58), 180 + own.between(-70, 70)];
      const sway = own.between(-24, 24);
      const way = alongHead(
        [
          ring.atAzimuth(front),
          onHead({ azimuth: 0.6 * front + sway, elevation: 42 }),
          onHead({ azimuth: own.between(0, 360), elevation: own.between(72, 86) }),
          onHead({ azimuth: back - sway, elevation: 42 }),
          ring.atAzimuth(back),
        ],
        { lift: 3 },
      );
      return tube(`stem ${i + 1}`, way, { radius: [4.6, 4, 3.6, 4.2, 4.6] });
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
      const float = tube(`float ${i + 1}`, [foot, foot.offset({ out: 0.22 * tall, side: 0.2 * side })], {
        radius: [3.5, 4],
        endTip: { bulb: 7 },
      });
      return [blade, float];
    });
    return [ring, spine, resting(heap, { sink: 0.22, pinned: "both" }), crest];
  },
});
