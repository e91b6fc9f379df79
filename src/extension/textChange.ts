/** A change of a text: what stands from `start` to `end` (offsets) becomes `text`. */
export interface TextChange {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}
