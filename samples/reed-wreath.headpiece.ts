import { choice, count, headpiece, length, spiralAround, tube } from "anadem";

/** A leaf seen along its length: twice as wide as it is thick. */
const leafOutline = Array.from({ length: 16 }, (_, i): [number, number] => {
  const turn = (i / 16) * 2 * Math.PI;
  return [Math.cos(turn), 0.42 * Math.sin(turn)];
});

export default headpiece({
  name: "Reed wreath",
  wearer: "marsh-warden.wearer.json",
  printer: "round-250.printer.json",
  material: "pla.material.json",
  parameters: {
    reeds: count(66, { least: 24, most: 160, help: "reeds in the weave" }),
    thickness: length(2.3, { least: 1.6, most: 4, help: "radius of a reed" }),
    weave: choice(["loose", "tight"], { help: "how far the reeds stand off the core" }),
    rushes: count(5, { least: 0, most: 12, help: "bulrushes at the left temple" }),
    leaves: count(9, { least: 0, most: 20, help: "leaves among the bulrushes" }),
  },
  make({ head, parameters: { reeds, thickness, weave, rushes, leaves }, random }) {
    // The line of the wreath rises over the brow and dips at the back.
    const line = head.girthLine.raised((share) => 13 + 9 * Math.cos(2 * Math.PI * share)).lifted(7);
    const core = tube("core", line, { radius: 6 });
    const swell = weave === "loose" ? 11.5 : 9;

    // Each reed runs along a third of the wreath, now over its neighbours, now under them, and strays at its end.
    const woven = Array.from({ length: reeds }, (_, i) => {
      const own = random.named(`reed ${i}`);
      const start = i / reeds;
      const way = line.part(start, start + own.between(0.25, 0.38));
      const over = i % 2 === 0 ? 1 : -1;
      const reed = spiralAround(way, {
        away: (share) => swell * (0.66 + 0.28 * over * Math.cos(6 * Math.PI * share)) + 8 * share ** 8,
        turns: over * own.between(0.7, 1.1),
        phase: own.between(0, 360),
      });
      return tube(`reed ${i + 1}`, reed, { radius: [0.9, 1, 1, 0.9].map((share) => share * thickness) });
    });

    const bindings = line
      .spread(9)
      .map(({ share }, i) =>
        tube(
          `binding ${i + 1}`,
          spiralAround(line.part(share - 0.012, share + 0.012), { away: 0.92 * swell, turns: 3 }),
          { radius: 1.9, tip: { into: core } },
        ),
      );

    // A spray of bulrushes and leaves at the left temple.
    const spray = (name: string, at: number, tall: number) => {
      const own = random.named(name);
      const foot = line.atAzimuth(-40 - 34 * at);
      return [
        foot,
        foot.moved({ up: 0.45 * tall, right: own.between(-8, 2) }),
        foot.moved({ up: tall, right: own.between(-20, -4), forward: (0.2 - 0.6 * at) * tall }),
      ];
    };
    const bulrushes = Array.from({ length: rushes }, (_, i) => {
      const stalk = tube(`stalk ${i + 1}`, spray(`rush ${i}`, i / (rushes - 1 || 1), 105 + 14 * (i % 3)), {
        radius: [3, 2.2],
      });
      return [stalk, tube(`bulrush ${i + 1}`, stalk.path.part(0.62, 0.88), { radius: 5.6 })];
    });
    const blades = Array.from({ length: leaves }, (_, i) =>
      tube(`leaf ${i + 1}`, spray(`leaf ${i}`, i / (leaves - 1 || 1), 70 + 16 * (i % 4)), {
        section: leafOutline,
        facing: "out",
        twist: i % 2 ? 50 : -50,
        radius: [3.2, 6, 6.4, 5.4, 3.2],
      }),
    );
    return [core, woven, bindings, bulrushes, blades];
  },
});
