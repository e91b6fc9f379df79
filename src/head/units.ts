/** Units that a wearer's measures may be given in. */
export const UNITS = ["mm", "cm", "in"] as const;
export type Unit = (typeof UNITS)[number];

/** mm in one of a unit. */
export const MM_PER: Readonly<Record<Unit, number>> = { mm: 1, cm: 10, in: 25.4 };

export const UNIT_NAME: Readonly<Record<Unit, string>> = {
  mm: "millimetres",
  cm: "centimetres",
  in: "inches",
};

/** A length in mm as people write it in a unit: 570 mm, 57 cm, 22.44 in. */
export const inUnit = (mm: number, unit: Unit): string => {
  const digits = unit === "mm" ? 1 : 2;
  return `${Number((mm / MM_PER[unit]).toFixed(digits))} ${unit}`;
};
