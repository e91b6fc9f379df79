import type { HeadDirection } from "./coordinates";
import type { Landmark } from "./landmarks";
import { hairlineElevation } from "./regions";

/** `sagittalLine` runs from brow over crown to nape, `coronalLine` from left tragion over crown to right. */
export const LINES = ["girthLine", "sagittalLine", "coronalLine", "hairline"] as const;
export type LineName = (typeof LINES)[number];

/** Steps of a closed line, and of each half of an open one. */
const AROUND = 120;
const HALF = 40;

const spread = (count: number, at: (share: number) => HeadDirection): HeadDirection[] =>
  Array.from({ length: count }, (_, i) => at(i / count));

/** Places along a named line; a closed one does not repeat its first. */
export const namedLine = (
  name: LineName,
  head: { landmark(name: Landmark): HeadDirection },
): HeadDirection[] => {
  switch (name) {
    case "girthLine":
      return spread(AROUND, (s) => ({ azimuth: centred(360 * s), elevation: 0 }));
    case "hairline":
      return spread(AROUND, (s) => ({
        azimuth: centred(360 * s),
        elevation: hairlineElevation(360 * s),
      }));
    case "sagittalLine": {
      const nape = head.landmark("nape");
      return [
        ...spread(HALF, (s) => ({ azimuth: 0, elevation: 90 * s })),
        { azimuth: 0, elevation: 90 },
        ...spread(HALF, (s) => ({
          azimuth: 180,
          elevation: 90 + (nape.elevation - 90) * (s + 1 / HALF),
        })),
      ];
    }
    case "coronalLine": {
      const tragions = { left: head.landmark("leftTragion"), right: head.landmark("rightTragion") };
      const rise = (s: number, side: "left" | "right"): HeadDirection => {
        const { azimuth, elevation } = tragions[side];
        // Straight up from the tragion; the azimuth turns to 90 as the line nears the crown.
        const turned = 90 + (Math.abs(azimuth) - 90) * (1 - s);
        return { azimuth: side === "left" ? -turned : turned, elevation: elevation + (90 - elevation) * s };
      };
      return [
        ...spread(HALF, (s) => rise(s, "left")),
        { azimuth: 90, elevation: 90 },
        ...spread(HALF, (s) => rise(1 - s - 1 / HALF, "right")),
      ];
    }
  }
};

const centred = (azimuth: number): number => (azimuth > 180 ? azimuth - 360 : azimuth);
