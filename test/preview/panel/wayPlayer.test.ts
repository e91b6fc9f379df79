import { describe, expect, test } from "vitest";
import { eased, WayPlayer, type WayShown, wayTime } from "../../../src/preview/panel/wayPlayer";

function rig(isStill = false) {
  let time = 1000;
  const frames = new Map<number, () => void>();
  let last = 0;
  const shown: (number | undefined)[] = [];
  const told: WayShown[] = [];
  const player = new WayPlayer({
    show: (share) => shown.push(share),
    changed: (state) => told.push(state),
    isStill: () => isStill,
    now: () => time,
    request: (callback) => {
      frames.set(++last, callback);
      return last;
    },
    cancel: (handle) => frames.delete(handle),
  });
  /** A frame after so many ms. */
  const pass = (milliseconds: number) => {
    time += milliseconds;
    const waiting = [...frames];
    frames.clear();
    for (const [, callback] of waiting) callback();
  };
  return { player, shown, told, frames, pass };
}

describe("the way on", () => {
  test("does nothing until it is asked for", () => {
    const { player, shown, frames, pass } = rig();
    pass(5000);
    expect([shown, frames.size, player.shown.isOpen]).toEqual([[], 0, false]);
  });

  test("plays from off the head to the seat in its time, slow at both ends, and ends", () => {
    const { player, shown, told, frames, pass } = rig();
    player.playFromStart();
    pass(wayTime / 4);
    pass(wayTime / 4);
    pass(wayTime / 2 + 30);
    expect(shown).toEqual([0, eased(0.25), 0.5, 1]);
    expect(told.map(({ isPlaying }) => isPlaying)).toEqual([true, true, true, false]);
    expect(frames.size).toBe(0);
    expect(eased(0.05)).toBeLessThan(0.05 / 4);
    expect(1 - eased(0.95)).toBeLessThan(0.05 / 4);
  });

  test("stops where it is, goes on from there, and begins anew from the seat", () => {
    const { player, frames, pass } = rig();
    player.playFromStart();
    pass(wayTime / 2);
    player.toggle();
    expect([player.shown, frames.size]).toEqual([{ isOpen: true, isPlaying: false, share: 0.5 }, 0]);
    pass(9000);
    player.toggle();
    pass(wayTime / 4);
    expect(player.shown.share).toBeCloseTo(0.75, 9);
    pass(wayTime);
    expect(player.shown).toEqual({ isOpen: true, isPlaying: false, share: 1 });
    player.toggle();
    expect(player.shown).toEqual({ isOpen: true, isPlaying: true, share: 0 });
  });

  test("the hand takes over from the play", () => {
    const { player, shown, frames, pass } = rig();
    player.playFromStart();
    pass(100);
    player.scrub(0.3);
    expect([player.shown.isPlaying, frames.size, shown.at(-1)]).toEqual([false, 0, eased(0.3)]);
    player.scrub(4);
    expect(player.shown.share).toBe(1);
  });

  test("closed, the piece just sits, and nothing moves on", () => {
    const { player, shown, frames, pass } = rig();
    player.close();
    expect(shown).toEqual([]);
    player.playFromStart();
    pass(100);
    player.close();
    expect([shown.at(-1), frames.size, player.shown.isOpen]).toEqual([undefined, 0, false]);
  });

  test("where motion is to be reduced only the slider moves it", () => {
    const { player, shown, frames } = rig(true);
    player.playFromStart();
    player.toggle();
    player.scrub(0.5);
    player.toggle();
    expect(shown).toEqual([0, 0.5]);
    expect(frames.size).toBe(0);
  });
});
