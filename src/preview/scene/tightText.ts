/** What is said at the tightest place of a way on that is barred. `tooSmall`: mm. */
export const tightText = (tooSmall: number): string =>
  `⚠ ${tooSmall.toFixed(tooSmall < 9.95 ? 1 : 0)} mm too small`;
