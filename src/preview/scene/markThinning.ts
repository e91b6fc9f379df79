import type { FindingMark } from "../pieceView";

/** A mark that is drawn, and those that it stands for beside itself. */
export interface ThinnedMark {
  readonly mark: FindingMark;
  readonly others: readonly FindingMark[];
}

/** Marks that are drawn at most: the piece stays to be seen. */
export const mostMarks = 24;

/** Places that lie nearer than this share a mark, mm. */
export const sharedReach = 16;

const order = { error: 0, warning: 1, note: 2 } as const;

/**
 * The marks that are drawn, in the order in which they came. The worst have their places first; one with a place of its
 * own joins a mark near it that is as bad or worse; what is more than `most` joins the nearest, or the last.
 */
export function thinned(marks: readonly FindingMark[], most = mostMarks, reach = sharedReach): ThinnedMark[] {
  const kept: { readonly mark: FindingMark; readonly others: FindingMark[]; readonly rank: number }[] = [];
  const ranked = marks.map((mark, rank) => ({ mark, rank }));
  ranked.sort((one, other) => order[one.mark.severity] - order[other.mark.severity]);
  for (const { mark, rank } of ranked) {
    const near = nearestTo(
      mark,
      kept.map((one) => one.mark),
    );
    if (near.at >= 0 && near.distance < reach) kept[near.at].others.push(mark);
    else if (kept.length < most) kept.push({ mark, others: [], rank });
    else kept.at(near.at)?.others.push(mark);
  }
  return kept.sort((one, other) => one.rank - other.rank).map(({ mark, others }) => ({ mark, others }));
}

/** The nearest of some marks, −1 where neither it nor any of them has a place. */
function nearestTo({ at: from }: FindingMark, marks: readonly FindingMark[]) {
  let [at, distance] = [-1, Infinity];
  for (const [i, { at: to }] of marks.entries()) {
    if (!from || !to) continue;
    const between = Math.hypot(from[0] - to[0], from[1] - to[1], from[2] - to[2]);
    if (between < distance) [at, distance] = [i, between];
  }
  return { at, distance };
}
