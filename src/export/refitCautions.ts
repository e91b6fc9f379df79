import { type CautionInput, cautions } from "../checks/cautions";

/** The cautions that belong beside a table of pieces: each as the gravest of them asks for it. */
export function refitCautions(rows: readonly { readonly cautioned?: CautionInput }[]): string[] {
  const inputs = rows.flatMap(({ cautioned }) => cautioned ?? []);
  if (inputs.length === 0) return [];
  const softest = inputs.reduce((a, b) => (b.material.softening[0] < a.material.softening[0] ? b : a));
  const tips = new Map<string, number>();
  for (const { part, radius } of inputs.flatMap((input) => input.tips ?? [])) {
    tips.set(part, Math.min(radius, tips.get(part) ?? Infinity));
  }
  return cautions({
    material: softest.material,
    mass: Math.max(...inputs.map(({ mass }) => mass)),
    aboveCrown: Math.max(...inputs.map(({ aboveCrown = 0 }) => aboveCrown)),
    tips: [...tips].map(([part, radius]) => ({ part, radius })),
    child: inputs.some(({ child }) => child === true),
  });
}
