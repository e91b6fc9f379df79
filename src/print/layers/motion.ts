/**
 * Time of a straight run of `length` (mm) that begins at speed `from`, ends at speed `to` and goes at most at `top`
 * (mm/s) with a constant acceleration (mm/s²): a trapezoid of speed over time, a triangle where the run is too short to
 * reach `top` (equations of uniformly accelerated motion). Where it is too short even to get from the one end's speed to
 * the other's, the slower end decides. End speeds over `top` count as `top`.
 * @throws RangeError for a length below zero, or a speed or acceleration that is not more than zero.
 */
export function runTime(length: number, from: number, to: number, top: number, acceleration: number): number {
  if (!(length >= 0 && length < Infinity))
    throw new RangeError(`A run is ${length} mm long: use zero or more.`);
  if (!(top > 0)) throw new RangeError(`The speed is ${top} mm/s: it must be more than zero.`);
  if (!(acceleration > 0)) {
    throw new RangeError(`The acceleration is ${acceleration} mm/s²: it must be more than zero.`);
  }
  if (length === 0) return 0;
  const v0 = Math.min(top, Math.max(0, from));
  const v1 = Math.min(top, Math.max(0, to));
  const slower = Math.min(v0, v1);
  const reached = Math.sqrt(slower * slower + 2 * acceleration * length);
  if (reached <= Math.max(v0, v1)) return (reached - slower) / acceleration;
  const peak = Math.min(top, Math.sqrt(acceleration * length + (v0 * v0 + v1 * v1) / 2));
  const speeding = (2 * peak * peak - v0 * v0 - v1 * v1) / (2 * acceleration);
  return (2 * peak - v0 - v1) / acceleration + Math.max(0, length - speeding) / peak;
}

/**
 * The speed that is reached along a path: that of its kind, or what the hot end can melt, mm/s: flow limit (mm³/s) over
 * the section of the line, width × height (mm).
 */
export function printSpeed(speed: number, flowLimit: number, lineWidth: number, layerHeight: number): number {
  return Math.min(speed, flowLimit / (lineWidth * layerHeight));
}
