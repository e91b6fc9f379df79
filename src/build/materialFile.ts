import type { Material } from "../checks/material";
import type { DataReading } from "./dataReading";
import materialSchema from "./material.schema.json";
import { schemaCheck } from "./schemaMessages";

/**
 * Stands in where a design names no material. Density, softening and strength as makers' tables give them
 * (second hand); the modulus from memory.
 */
export const defaultMaterial: Material = {
  name: "PLA",
  density: 1.24,
  softening: [55, 65],
  strength: 37,
  modulus: 2.3,
  spool: 1000,
  sources:
    "density 1.24 g/cm³, softening 55–65 °C and strength 37–73 MPa: filament makers' tables (second hand); modulus 2.3–3.5 GPa: from memory",
};

const check = schemaCheck(materialSchema);

/** A parsed `NAME.material.json` as a material, or messages that name the wrong fields. */
export function materialFromDocument(document: unknown): DataReading<Material> {
  const messages = check(document);
  if (messages.length > 0) return { messages };
  const given = document as Omit<Material, "spool"> & { spool?: number; $schema?: string };
  const { $schema: _, ...figures } = given;
  const { softening } = figures;
  const [least, most] = softening;
  if (least > most) {
    return {
      messages: [
        {
          id: "out-of-range",
          severity: "error",
          field: "softening",
          text: `"softening" goes from ${least} down to ${most}`,
          suggestion: `write the least first: [${most}, ${least}]`,
        },
      ],
    };
  }
  const spool = given.spool ?? defaultMaterial.spool;
  return { value: { ...figures, spool }, messages };
}
