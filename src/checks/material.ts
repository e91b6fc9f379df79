/** What a headpiece is printed of. */
export interface Material {
  readonly name: string;
  /** g/cm³ */
  readonly density: number;
  /** °C at which parts of it begin to give way, least and most that is published. */
  readonly softening: readonly [least: number, most: number];
  /** Tensile strength, MPa; where sources differ, the least. */
  readonly strength: number;
  /** Modulus of elasticity, GPa; where sources differ, the least. */
  readonly modulus: number;
  /** Filament on a full spool, g. */
  readonly spool: number;
  /** Price of a kilogram of filament, in the workshop's currency. */
  readonly pricePerKilogram?: number;
  /** What prices are shown in, for example "€"; absent: bare numbers. */
  readonly currency?: string;
  /** Where the figures come from. */
  readonly sources?: string;
}
