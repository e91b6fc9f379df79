import {
  alongHead,
  angle,
  arc,
  band,
  count,
  headpiece,
  helix,
  length,
  mirrored,
  onHead,
  socket,
  toggle,
  tube,
} from "anadem";

/** A horn is keeled: an outline between a circle and a triangle, in radii. */
const keeled = Array.from({ length: 30 }, (_, i): [number, number] => {
  const turn = (i / 30) * 2 * Math.PI;
  const away = 0.96 + 0.1 * Math.cos(3 * turn) + 0.03 * Math.cos(turn);
  return [away * Math.cos(turn), away * Math.sin(turn)];
});

export default headpiece({
  name: "Ram's horns",
  wearer: "ram-of-the-shoals.wearer.json",
  printer: "workshop-300.printer.json",
  material: "petg.material.json",
  parameters: {
    thickness: length(19, { least: 12, most: 26, help: "radius of a horn at its root" }),
    curl: length(58, { least: 40, most: 80, help: "radius of the outermost turn" }),
    winding: angle(490, { least: 250, most: 600, help: "how far a horn winds" }),
    barnacles: count(7, { least: 0, most: 20, help: "on each horn" }),
    fleece: toggle(true, { help: "curls of wool over the brow" }),
  },
  make({ head, parameters: { thickness, curl, winding, barnacles, fleece }, random }) {
    const circlet = band("circlet", head.girthLine.raised(8), { width: 18, thickness: 4 });

    // A horn starts in front of the crown, sweeps back over the ear and comes forward beneath it.
    const root = onHead({ azimuth: 50, elevation: 36, lift: 0.4 * thickness });
    const winds = helix({
      from: root.moved({ forward: -0.77 * curl, up: -0.64 * curl }),
      axis: [0.94, 0.3, -0.16],
      radius: [curl, 0.36 * curl],
      rise: 36,
      turns: winding / 360,
      phase: -50,
    });
    const ridge = (share: number) => Math.abs(Math.sin(Math.PI * 34 * share ** 0.8));
    const horn = tube("horn", winds, {
      section: keeled,
      facing: [1, 0, 0],
      radius: (share) => (thickness * (1 - 0.78 * share) + 0.4) * (0.93 + 0.09 * ridge(share)),
    });
    // Straps carry it: one over the head from horn to horn, one down each side to the circlet.
    const foot = root.lifted(-0.4 * thickness);
    const over = band("strap over", alongHead([foot, foot.mirrored()]), { width: 16, thickness: 4 });
    const down = band("strap down", alongHead([circlet.atAzimuth(56), foot]), { width: 26, thickness: 4 });

    const shells = Array.from({ length: barnacles }, (_, i) => {
      const own = random.named(`barnacle ${i}`);
      const base = horn.surfaceAt(own.between(0.08, 0.6), own.between(-100, 80)).lifted(-1.5);
      const size = own.between(3.4, 5.2);
      const mouth = base.lifted(1.5 + size);
      const cone = tube(`barnacle ${i + 1}`, [base, mouth], {
        radius: [1.25 * size, 0.8 * size],
        tip: "flat",
      });
      return [
        cone,
        socket(`mouth ${i + 1}`, { at: mouth, diameter: 0.9 * size, depth: 0.7 * size, from: cone }),
      ];
    });

    // A curl is as large on every head: so is the way from one to the next, in arcs of mm.
    const curls = [0, 1].map((row) => {
      const many = fleece ? 7 - row : 0;
      return Array.from({ length: many }, (_, i) => {
        const along = 20.5 * (i - (many - 1) / 2);
        const middle = onHead({ azimuth: arc(along), elevation: arc(15 + 16.5 * row), lift: 3 });
        const wool = helix({
          from: middle,
          axis: middle.out,
          radius: [10, 2.6],
          rise: 3,
          turns: along > 0 ? 1.7 : -1.7,
          phase: 150,
        });
        return tube(`wool ${row + 1}.${i + 1}`, wool, { radius: [3.6, 3.2, 2.8] });
      });
    });
    const half = [horn, down, shells];
    return [circlet, over, half, mirrored(half), curls];
  },
});
