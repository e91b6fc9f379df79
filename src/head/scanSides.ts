/** Where an azimuth lies, in words. */
export function sideOf(azimuth: number): string {
  const sides = [
    "at the front",
    "at the right of the front",
    "at the right",
    "at the right of the back",
    "at the back",
  ];
  const left = (word: string): string => word.replace("right", "left");
  const turn = ((azimuth + 540) % 360) - 180;
  const word = sides[Math.round(Math.abs(turn) / 45)];
  return turn < 0 ? left(word) : word;
}
