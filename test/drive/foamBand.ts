/** A small design of the foam chorus: quick to build, so that it can be built often. */
export const foamBand = `import { band, headpiece, length, onHead, tube } from "anadem";

export default headpiece({
  name: "Foam band",
  wearer: "pearl-diver.wearer.json",
  printer: "hall-220.printer.json",
  material: "pla.material.json",
  parameters: {
    reach: length(60, { least: 20, most: 120, help: "how far the fin stands off the head" }),
  },
  make({ head, parameters: { reach } }) {
    const ring = band("ring", head.girthLine.raised(22), { radius: 5 });
    const spine = [
      ring.atAzimuth(0),
      onHead({ azimuth: 0, elevation: 30, lift: 12 }),
      onHead({ azimuth: 0, elevation: 50, lift: reach }),
    ];
    const fin = tube("fin", spine, { radius: [6.6, 5.6, 4.2] });
    return [ring, fin];
  },
});
`;

export const foamBandFile = "foam-band.headpiece.ts";

/** The line of the fin with another name and another radius in its middle, mm. */
export const finLine = (name: string, middle: number): string =>
  `    const fin = tube("${name}", spine, { radius: [6.6, ${middle}, 4.2] });`;
