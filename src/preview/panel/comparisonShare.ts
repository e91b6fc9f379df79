/** Share of the way from the old piece to that of now that one key press goes. */
export const comparisonStep = 0.125;

/** The share after a step, held between the two pieces. */
export const movedShare = (share: number, by: number): number =>
  Math.round(1000 * Math.min(1, Math.max(0, share + by))) / 1000;

/** What the picture shows at a place between the two pieces, in words. */
export function shareText(share: number): string {
  if (share <= 0) return "The old piece";
  if (share >= 1) return "The piece of now";
  if (share === 0.5) return "Both, with all that differs";
  const percent = Math.round(100 * Math.abs(2 * share - 1));
  return share < 0.5
    ? `${percent} percent towards the old piece`
    : `${percent} percent towards the piece of now`;
}
