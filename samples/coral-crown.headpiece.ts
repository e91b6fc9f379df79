import { primitives } from "@jscad/modeling";
import {
  band,
  choice,
  count,
  headpiece,
  length,
  onHead,
  type Parts,
  type Random,
  solid,
  spiralAround,
  type Tube,
  toggle,
  tube,
} from "anadem";

/** A stem with twigs to both sides, and smaller twigs on those. */
function coral(stem: Tube, shape: { size: number; thick: number; spread: number }, random: Random): Parts {
  const { size, thick, spread } = shape;
  if (thick < 2.4) return stem;
  const twigs = [0.3, 0.52, 0.74].map((share, i) => {
    const fork = stem.at(share + random.between(-0.05, 0.05));
    const side = (i % 2 ? 1 : -1) * size * random.between(0.8, 1.1) * spread;
    const out = size * random.between(-0.35, 0.4) * spread;
    const twig = tube(
      `${stem.name}.${i + 1}`,
      [
        fork,
        fork.offset({ along: 0.2 * size, side: 0.7 * side, out: 0.6 * out }),
        fork.offset({ along: (0.95 - 0.2 * i) * size, side, out }),
      ],
      { radius: [thick, 0.85 * thick, 0.75 * thick], endTip: { bulb: 1.05 * thick } },
    );
    return coral(twig, { size: 0.5 * size, thick: 0.68 * thick, spread }, random.named(i));
  });
  return [stem, ...twigs];
}

export default headpiece({
  name: "Coral crown",
  wearer: "pearl-diver.wearer.json",
  printer: "hall-220.printer.json",
  material: "pla.material.json",
  parameters: {
    branches: count(9, { least: 3, most: 24, help: "stems around the head" }),
    reach: length(78, { least: 20, most: 160, help: "how far the tallest stem stands off the head" }),
    mood: choice(["calm", "storm"], { help: "how widely the coral forks" }),
    pearls: toggle(true, { help: "a pearl between each two stems" }),
  },
  make({ head, parameters: { branches, reach, mood, pearls }, random }) {
    const ring = band("ring", head.girthLine.raised(13), { radius: 5 });
    const crust = [0, 180].map((phase) =>
      tube(`crust ${phase}`, spiralAround(ring, { away: 2.5, turns: 17, phase }), { radius: 2.8 }),
    );

    const corals = head.around(branches, (azimuth, i) => {
      const own = random.named(`stem ${i + 1}`);
      const lean = own.between(-7, 7);
      // Tallest over the brow, lowest at the back.
      const tall = reach * (0.72 + 0.28 * Math.cos((azimuth * Math.PI) / 180)) * own.between(0.85, 1);
      const stem = tube(
        `stem ${i + 1}`,
        [
          ring.atAzimuth(azimuth),
          onHead({ azimuth: azimuth + lean, elevation: 22, lift: 8 }),
          onHead({ azimuth: azimuth - lean, elevation: 40, lift: 0.4 * tall }),
          onHead({ azimuth: azimuth + lean, elevation: 58, lift: tall }),
        ],
        { radius: [7.4, 6.6, 5.2, 3.8], endTip: { bulb: 4.8 } },
      );
      return coral(stem, { size: 14 + 0.32 * tall, thick: 4.4, spread: mood === "storm" ? 0.85 : 0.6 }, own);
    });

    const beads = head.around(pearls ? branches : 0, (azimuth, i) =>
      solid(`pearl ${i + 1}`, primitives.geodesicSphere({ radius: 5.5, frequency: 18 }), {
        at: ring.atAzimuth(azimuth + 180 / branches).lifted(7.5),
      }),
    );
    return [ring, crust, corals, beads];
  },
});
