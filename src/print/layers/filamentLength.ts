/** Metres of filament of the given diameter (mm) that `mass` grams of a material (g/cm³) make. */
export function filamentLength(mass: number, density: number, diameter: number): number {
  if (!(density > 0)) throw new RangeError(`The density is ${density} g/cm³: it must be more than zero.`);
  if (!(diameter > 0)) throw new RangeError(`The filament is ${diameter} mm thick: use more than zero.`);
  // g / (g/cm³) = cm³; a filament of 1 mm² holds 1 cm³ a metre.
  return mass / density / ((Math.PI / 4) * diameter * diameter);
}
