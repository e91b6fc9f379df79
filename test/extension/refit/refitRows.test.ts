import { describe, expect, test } from "vitest";
import type { RefitRow } from "../../../src/build/refit/refitRow";
import type { RefitEvents, RefitTable } from "../../../src/build/refit/refitting";
import { type DesignPlan, rowKey } from "../../../src/extension/refit/knownRows";
import { RefitRows } from "../../../src/extension/refit/refitRows";
import { FakeClock, settled } from "../fakeClock";
import { crown, helper, minnow, queen, row, warden, wreath } from "./rows";

/** A refit that goes on as the test says. */
interface Asked {
  readonly plans: readonly DesignPlan[];
  readonly events: RefitEvents;
  readonly isAborted: () => boolean;
  row(design: string, wearer: string, more?: Partial<RefitRow>): void;
  /** Ends it with all rows that it was asked for; `more` is what each is. */
  end(more?: (design: string, wearer: string) => Partial<RefitRow>): Promise<void>;
  fail(error: Error): Promise<void>;
}

function rig(isLookedAt = true) {
  const clock = new FakeClock();
  const asked: Asked[] = [];
  const changes: (string | undefined)[] = [];
  const failures: unknown[] = [];
  const rows = new RefitRows({
    refit: (plans, events) =>
      new Promise<RefitTable>((resolve, reject) => {
        events.signal?.addEventListener("abort", () => reject(events.signal?.reason));
        asked.push({
          plans,
          events,
          isAborted: () => events.signal?.aborted === true,
          row: (design, wearer, more) => events.onRow?.(row(design, wearer, more)),
          async end(more = () => ({})) {
            const all = plans.flatMap(({ design, wearers }) =>
              wearers.map((wearer) => row(design, wearer, more(design, wearer))),
            );
            for (const each of all) events.onRow?.(each);
            resolve({ rows: all, messages: [] });
            await settled();
          },
          async fail(error) {
            reject(error);
            await settled();
          },
        });
      }),
    processes: 2,
    changed: (key) => changes.push(key),
    failed: (error) => failures.push(error),
    clock,
  });
  rows.setLookedAt(isLookedAt);
  const states = () => rows.rows.map(({ state }) => state);
  const begin = () => clock.pass(100);
  return { clock, asked, changes, failures, rows, states, begin };
}

const plans: readonly DesignPlan[] = [
  { design: crown, wearers: [queen, minnow] },
  { design: wreath, wearers: [minnow, queen] },
];

/** A table in which all rows are made. */
async function made() {
  const all = rig();
  all.rows.want(plans);
  await all.begin();
  await all.asked[0].end();
  all.changes.length = 0;
  return all;
}

describe("what is made", () => {
  test("all rows that there are to be, in their order, and told one by one", async () => {
    const { rows, states, begin, asked, changes } = rig();
    rows.want(plans);
    expect(states()).toEqual(["waiting", "waiting", "waiting", "waiting"]);
    expect(rows.run).toEqual({ phase: "running", done: 0, all: 4 });
    await begin();
    expect(asked[0].plans).toEqual(plans);
    asked[0].row(crown, minnow);
    expect(changes.at(-1)).toBe(rowKey(crown, minnow));
    expect(states()).toEqual(["waiting", "current", "waiting", "waiting"]);
    asked[0].events.onProgress?.(1, 4);
    expect(rows.run).toMatchObject({ done: 1, all: 4 });
    await asked[0].end();
    expect(states()).toEqual(["current", "current", "current", "current"]);
    expect(rows.run.phase).toBe("idle");
    expect(rows.rows.map(({ key }) => key)).toEqual(
      plans.flatMap(({ design, wearers }) => wearers.map((wearer) => rowKey(design, wearer))),
    );
  });

  test("a wearer that only the run knew of takes its place in the order of the run", async () => {
    const { rows, begin, asked } = rig();
    rows.want([{ design: crown, wearers: [queen, minnow] }]);
    await begin();
    asked[0].events.onRow?.(row(crown, warden));
    const { wearers } = asked[0].plans[0];
    (wearers as string[]).unshift(warden);
    await asked[0].end();
    expect(rows.rows.map(({ wearer }) => wearer)).toEqual([warden, queen, minnow]);
  });

  test("wanting the same again runs nothing", async () => {
    const { rows, begin, asked, changes } = await made();
    rows.want(structuredClone(plans));
    await begin();
    expect(asked).toHaveLength(1);
    expect(changes).toEqual([]);
  });
});

describe("a file is saved", () => {
  test("a wearer's: the rows on that head are out of date and made again, with their last values meanwhile", async () => {
    const { rows, states, begin, asked } = await made();
    rows.fileChanged(minnow);
    expect(states()).toEqual(["current", "outdated", "outdated", "current"]);
    expect(rows.rows[1].row?.mass).toBe(200);
    await begin();
    expect(asked[1].plans).toEqual(plans);
    await asked[1].end((_, wearer) => (wearer === minnow ? { mass: 150 } : { kept: true }));
    expect(states()).toEqual(["current", "current", "current", "current"]);
    expect(rows.rows.map(({ row }) => row?.mass)).toEqual([200, 150, 150, 200]);
  });

  test("an import: only the design that reads it is asked for", async () => {
    const { rows, states, begin, asked } = await made();
    rows.fileChanged(helper);
    expect(states()).toEqual(["outdated", "outdated", "current", "current"]);
    await begin();
    expect(asked[1].plans.map(({ design }) => design)).toEqual([crown]);
  });

  test("what no row reads runs nothing", async () => {
    const { rows, begin, asked, changes } = await made();
    rows.fileChanged("/court/notes.json");
    await begin();
    expect(asked).toHaveLength(1);
    expect(changes).toEqual([]);
  });

  test("a row that is the same again is no news for the page, but one that changed is", async () => {
    const { rows, begin, asked, changes } = await made();
    rows.fileChanged(minnow);
    await begin();
    changes.length = 0;
    await asked[1].end((design) => ({ kept: true, ...(design === wreath && { mass: 150 }) }));
    const told = changes.filter((key) => key !== undefined);
    // The rows on the other head of the crown were kept as they were.
    expect(told).not.toContain(rowKey(crown, queen));
    expect(told).toContain(rowKey(wreath, minnow));
    expect(told).toContain(rowKey(crown, minnow));
  });

  test("many saves in a moment are one run", async () => {
    const { rows, begin, asked, clock } = await made();
    for (let i = 0; i < 5; i++) {
      rows.fileChanged(minnow);
      await clock.pass(10);
    }
    await begin();
    expect(asked).toHaveLength(2);
  });

  test("while a run goes on: it is ended and begun anew, and what it made stays", async () => {
    const { rows, states, begin, asked } = rig();
    rows.want(plans);
    await begin();
    asked[0].row(crown, queen);
    asked[0].row(crown, minnow);
    rows.fileChanged(minnow);
    expect(asked[0].isAborted()).toBe(true);
    expect(states()).toEqual(["current", "outdated", "waiting", "waiting"]);
    expect(rows.run.phase).toBe("running");
    // What the old run still tells is of the old file.
    asked[0].row(crown, minnow, { mass: 1 });
    expect(states()[1]).toBe("outdated");
    await begin();
    expect(asked[1].plans).toEqual(plans);
    await asked[1].end();
    expect(rows.run.phase).toBe("idle");
    expect(rows.rows[1].row?.mass).toBe(200);
  });

  test("while the rows that would read it are not known yet: the run begins anew", async () => {
    const { rows, begin, asked } = rig();
    rows.want(plans);
    await begin();
    rows.fileChanged("/court/parts/reed.ts");
    expect(asked[0].isAborted()).toBe(true);
    await begin();
    rows.fileChanged("/court/notes.md");
    expect(asked[1].isAborted()).toBe(false);
  });

  test("a file that comes may be what a failed row was missing", async () => {
    const { rows, states, begin, asked } = rig();
    rows.want([plans[0]]);
    await begin();
    await asked[0].end((_, wearer) => (wearer === minnow ? { verdict: "failed", inputs: [crown] } : {}));
    rows.fileChanged("/court/parts/new.ts");
    expect(states()).toEqual(["current", "current"]);
    rows.fileChanged("/court/parts/new.ts", true);
    expect(states()).toEqual(["current", "outdated"]);
    await begin();
    expect(asked).toHaveLength(2);
  });
});

describe("wearers and designs come and go", () => {
  test("a new wearer is made, and what is known of the others stays", async () => {
    const { rows, states, begin, asked } = await made();
    rows.want(plans.map((plan) => ({ ...plan, wearers: [...plan.wearers, warden] })));
    expect(states()).toEqual(["current", "current", "waiting", "current", "current", "waiting"]);
    await begin();
    expect(asked).toHaveLength(2);
  });

  test("a wearer that goes takes its rows with it, and runs nothing", async () => {
    const { rows, states, begin, asked } = await made();
    rows.want(plans.map((plan) => ({ ...plan, wearers: [queen] })));
    expect(states()).toEqual(["current", "current"]);
    await begin();
    expect(asked).toHaveLength(1);
    expect(rows.run.phase).toBe("idle");
  });

  test("a design that left the table and comes back is known still, and what changed meanwhile is made again", async () => {
    const { rows, states, begin, asked } = await made();
    rows.want([plans[0]]);
    rows.fileChanged(wreath);
    await begin();
    expect(asked).toHaveLength(1);
    rows.want(plans);
    expect(states()).toEqual(["current", "current", "outdated", "outdated"]);
    await begin();
    expect(asked[1].plans.map(({ design }) => design)).toEqual([wreath]);
  });

  test("a run over a design that leaves the table ends", async () => {
    const { rows, begin, asked } = rig();
    rows.want(plans);
    await begin();
    rows.want([plans[0]]);
    expect(asked[0].isAborted()).toBe(true);
    await begin();
    expect(asked[1].plans).toEqual([plans[0]]);
  });

  test("another printer makes all rows of the design again", async () => {
    const { rows, states, begin, asked } = await made();
    rows.designChanged(wreath);
    expect(states()).toEqual(["current", "current", "outdated", "outdated"]);
    await begin();
    expect(asked[1].plans.map(({ design }) => design)).toEqual([wreath]);
  });
});

describe("nobody looks", () => {
  test("nothing begins; when somebody looks, it catches up", async () => {
    const { rows, states, begin, asked } = rig(false);
    rows.want(plans);
    await begin();
    expect(asked).toHaveLength(0);
    expect(rows.run.phase).toBe("paused");
    rows.setLookedAt(true);
    await begin();
    await asked[0].end();
    expect(states()).toEqual(["current", "current", "current", "current"]);
  });

  test("rows at work end, and no more; those that were kept cost nothing and do not count", async () => {
    const { rows, states, begin, asked } = rig();
    rows.want(plans);
    await begin();
    rows.setLookedAt(false);
    asked[0].row(crown, queen, { kept: true });
    asked[0].row(crown, minnow);
    expect(asked[0].isAborted()).toBe(false);
    asked[0].row(wreath, minnow);
    expect(asked[0].isAborted()).toBe(true);
    expect(rows.run.phase).toBe("paused");
    expect(states()).toEqual(["current", "current", "current", "waiting"]);
    rows.setLookedAt(true);
    await begin();
    expect(asked[1].plans).toEqual(plans);
    await asked[1].end();
    expect(rows.run.phase).toBe("idle");
  });

  test("a save meanwhile ends the run, and is made up for later", async () => {
    const { rows, states, begin, asked } = await made();
    rows.setLookedAt(false);
    rows.fileChanged(minnow);
    await begin();
    expect(asked).toHaveLength(1);
    expect(states()).toEqual(["current", "outdated", "outdated", "current"]);
    rows.setLookedAt(true);
    await begin();
    expect(asked).toHaveLength(2);
  });
});

describe("it is stopped, or goes wrong", () => {
  test("a cancel keeps what is made; nothing goes on by itself until it is asked for", async () => {
    const { rows, states, begin, asked } = rig();
    rows.want(plans);
    await begin();
    asked[0].row(crown, queen);
    rows.cancel();
    expect(asked[0].isAborted()).toBe(true);
    expect(rows.run.phase).toBe("cancelled");
    rows.setLookedAt(false);
    rows.setLookedAt(true);
    await begin();
    expect(asked).toHaveLength(1);
    rows.again();
    await begin();
    await asked[1].end();
    expect(states()).toEqual(["current", "current", "current", "current"]);
  });

  test("a fault of the tool is told with its reason, and the next save tries again", async () => {
    const { rows, begin, asked, failures } = rig();
    rows.want(plans);
    await begin();
    await asked[0].fail(new Error("the disk is full"));
    expect(rows.run).toMatchObject({ phase: "failed", trouble: "the disk is full" });
    expect(failures).toHaveLength(1);
    rows.fileChanged(crown);
    rows.again();
    await begin();
    await asked[1].end();
    expect(rows.run).toMatchObject({ phase: "idle" });
    expect(rows.run.trouble).toBeUndefined();
  });

  test("two runs are never at work at once", async () => {
    const { rows, begin, asked } = rig();
    rows.want(plans);
    await begin();
    for (let i = 0; i < 3; i++) {
      rows.again();
      await begin();
      expect(asked.filter((each) => !each.isAborted())).toHaveLength(1);
    }
  });

  test("after its end nothing runs", async () => {
    const { rows, begin, asked } = rig();
    rows.want(plans);
    await begin();
    await rows.dispose();
    expect(asked[0].isAborted()).toBe(true);
    rows.fileChanged(crown);
    await begin();
    expect(asked).toHaveLength(1);
  });
});
