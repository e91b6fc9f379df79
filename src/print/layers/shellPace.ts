import type { LayerSample } from "./layerSample";
import type { LoopRuns } from "./loopRuns";
import { runTime } from "./motion";

/** How fast a nozzle moves, mm/s and mm/s². */
export interface Drive {
  readonly acceleration: number;
  readonly cornerSpeed: number;
  readonly travel: number;
}

/** What the shells of a sampled layer take at given speeds, and the ways between them. */
export interface ShellPace {
  /** Seconds a millimetre of outer and of inner shell. */
  readonly outer: number;
  readonly inner: number;
  /** Way from outline to outline and from shell to shell, mm, and its time, s. */
  readonly way: number;
  readonly waySeconds: number;
}

/**
 * Pace of a sampled layer: every loop starts and ends at rest, takes corners of more than 30° at the corner speed and
 * everything else at full speed. The runs of a shell are those of the outline, in proportion to its length.
 */
export function shellPace(
  { outer, inner, core, runs, hops, loops }: LayerSample,
  speeds: { readonly outer: number; readonly inner: number },
  { lineWidth, shells }: { readonly lineWidth: number; readonly shells: number },
  drive: Drive,
): ShellPace {
  const innerShells = shells - 1;
  // Ways among the loops: once for the shells, once more where there is something to fill.
  const tours = core > 0 ? 2 : 1;
  const within = innerShells > 0 && inner > 0 ? loops * innerShells : 0;
  let way = within * lineWidth;
  let waySeconds = within * runTime(lineWidth, 0, 0, drive.travel, drive.acceleration);
  for (const hop of hops) {
    way += tours * hop;
    waySeconds += tours * runTime(hop, 0, 0, drive.travel, drive.acceleration);
  }
  return {
    outer: pace(runs, outer, speeds.outer, drive),
    inner: innerShells > 0 ? pace(runs, inner / innerShells, speeds.inner, drive) : 1 / speeds.inner,
    way,
    waySeconds,
  };
}

/** Seconds a millimetre along runs of which each is `scale` times as long. */
function pace({ lengths, rests }: LoopRuns, scale: number, speed: number, drive: Drive): number {
  let length = 0;
  let seconds = 0;
  for (let i = 0; i < lengths.length; i++) {
    const run = lengths[i] * scale;
    const from = rests[i] & 1 ? 0 : drive.cornerSpeed;
    const to = rests[i] & 2 ? 0 : drive.cornerSpeed;
    seconds += runTime(run, from, to, speed, drive.acceleration);
    length += run;
  }
  return length > 0 ? seconds / length : 1 / speed;
}
