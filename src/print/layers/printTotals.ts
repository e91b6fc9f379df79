/** What a print takes, all in all. */
export interface PrintTotals {
  /** Everything that is printed, supports and brim too, g and m of filament. */
  readonly grams: number;
  readonly metres: number;
  /** Of it the piece alone, g. */
  readonly pieceGrams: number;
  readonly hours: number;
  /** In the workshop's currency, where prices are known. */
  readonly price?: number;
  /** Full spools that it takes. */
  readonly spools: number;
}
