import { band, count, headpiece, length, onHead, tube } from "anadem";

export default headpiece({
  name: "Coral crown",
  wearer: "pearl-diver.wearer.json",
  parameters: {
    branches: count(9, { least: 3, most: 24 }),
    reach: length(60, { least: 20, most: 160, help: "how far the tallest branch stands off the head" }),
  },
  make({ head, parameters: { branches, reach }, random }) {
    const ring = band("ring", head.girthLine.raised(12), { radius: 6 });
    const coral = head.around(branches, (azimuth, i) =>
      tube(
        `branch ${i + 1}`,
        [
          ring.atAzimuth(azimuth),
          onHead({ azimuth, elevation: 25, lift: 10 }),
          onHead({ azimuth: azimuth + random.between(-8, 8), elevation: 50, lift: reach }),
        ],
        { radius: [7, 5, 2.5], tip: "round" },
      ),
    );
    return [ring, ...coral];
  },
});
