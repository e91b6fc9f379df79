import { expect, test } from "vitest";
import { LatestOnly } from "../../../src/extension/builds/latestOnly";
import { Throttle } from "../../../src/extension/builds/throttle";
import { FakeClock, settled } from "../fakeClock";

function rig() {
  const clock = new FakeClock();
  const started: { job: number; signal: AbortSignal; end: () => void }[] = [];
  const runs = new LatestOnly<number>(
    (job, signal) =>
      new Promise((resolve) => {
        started.push({ job, signal, end: resolve });
        signal.addEventListener("abort", () => resolve());
      }),
    clock,
    60,
  );
  return { clock, started, runs };
}

test("two hundred quick requests make few runs, the last of the newest", async () => {
  const { clock, started, runs } = rig();
  for (let job = 1; job <= 200; job++) {
    void runs.request(job);
    await clock.pass(5);
  }
  await clock.pass(500);
  // One second: starts at 0, 60, 120, 240, 480 and 960 ms, and the last.
  expect(started.length).toBeLessThanOrEqual(7);
  expect(started[started.length - 1].job).toBe(200);
  expect(started.filter(({ signal }) => !signal.aborted)).toHaveLength(1);
});

test("a burst keeps nothing waiting that comes after it: the spacing is the least again", async () => {
  const { clock, started, runs } = rig();
  for (let job = 1; job <= 100; job++) {
    void runs.request(job);
    await clock.pass(5);
  }
  await clock.pass(500);
  started[started.length - 1].end();
  await clock.pass(60);
  void runs.request(200);
  await clock.pass(1);
  expect(started[started.length - 1].job).toBe(200);
  // The picture of this one is there: the next waits for no more than the least spacing.
  runs.pictureShown();
  void runs.request(201);
  await clock.pass(61);
  expect(started[started.length - 1].job).toBe(201);
});

test("never two at once, also where a run takes long to stop", async () => {
  const clock = new FakeClock();
  let running = 0;
  let most = 0;
  const runs = new LatestOnly<number>(
    async (_job, signal) => {
      most = Math.max(most, ++running);
      await new Promise<void>((resolve) => {
        signal.addEventListener("abort", () => clock.after(200, resolve));
        clock.after(1000, resolve);
      });
      running--;
    },
    clock,
    60,
  );
  for (let i = 0; i < 20; i++) {
    void runs.request(i);
    await clock.pass(90);
  }
  await clock.pass(5000);
  expect(most).toBe(1);
  expect(runs.isBusy).toBe(false);
});

test("a request resolves when the one in its place has ended", async () => {
  const { clock, started, runs } = rig();
  let ended = 0;
  void runs.request(1).then(() => ended++);
  await clock.pass(1);
  void runs.request(2).then(() => ended++);
  await clock.pass(100);
  expect(started.map(({ job }) => job)).toEqual([1, 2]);
  expect(ended).toBe(0);
  started[1].end();
  await settled();
  expect(ended).toBe(2);
});

test("a dragged control lets the running job come to its picture", async () => {
  const { clock, started, runs } = rig();
  void runs.request(1, "afterPicture");
  await clock.pass(80);
  void runs.request(2, "afterPicture");
  void runs.request(3, "afterPicture");
  await clock.pass(80);
  expect(started).toHaveLength(1);
  expect(started[0].signal.aborted).toBe(false);
  runs.pictureShown();
  await clock.pass(80);
  expect(started.map(({ job }) => job)).toEqual([1, 3]);
});

test("cancel stops the running and forgets the waiting", async () => {
  const { clock, started, runs } = rig();
  let isEnded = false;
  void runs.request(1).then(() => {
    isEnded = true;
  });
  void runs.request(2, "afterPicture");
  runs.cancel();
  await clock.pass(500);
  expect(started).toHaveLength(1);
  expect(started[0].signal.aborted).toBe(true);
  expect(isEnded).toBe(true);
  expect(runs.isBusy).toBe(false);
});

test("progress reaches listeners ten times a second at most, the last of it always", async () => {
  const clock = new FakeClock();
  const heard: number[] = [];
  let share = 0;
  const throttle = new Throttle<string>(() => heard.push(share), clock, 100);
  for (share = 1; share <= 100; share++) {
    throttle.call("wreath");
    await clock.pass(10);
  }
  share = 100;
  await clock.pass(500);
  expect(heard[0]).toBe(1);
  expect(heard.length).toBeLessThanOrEqual(12);
  expect(heard[heard.length - 1]).toBe(100);
});
