import type { Limits } from "../wearLimits";
import type { Finding } from "./finding";
import type { Material } from "./material";

/** *What heat does it bear?* */
export interface Heat {
  /** °C at which it begins to give way, least and most that is published. */
  readonly softening: readonly [least: number, most: number];
  /** Heat of a parked car, °C. */
  readonly car: number;
  readonly findings: readonly Finding[];
}

/** Answers *does it bear heat?*: the material's softening against a parked car. It never promises that it bears any. */
export function heat(material: Pick<Material, "name" | "softening">, limits: Limits): Heat {
  const { carHeat } = limits;
  const [least, most] = material.softening;
  const softens = least === most ? `near ${least} °C` : `at ${least} to ${most} °C`;
  return {
    softening: [least, most],
    car: carHeat.value,
    findings:
      least <= carHeat.value
        ? [
            {
              id: "softens-in-car",
              check: "heat",
              severity: "note",
              text: `${material.name} softens ${softens}; a parked car reaches ${carHeat.value} °C`,
              suggestion:
                "never leave it in a car or by a lamp; a material that softens later keeps its shape longer",
              value: least,
              unit: "°C",
              limit: { name: "carHeat", ...carHeat },
            },
          ]
        : [],
  };
}
