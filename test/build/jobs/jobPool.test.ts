import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, afterEach, beforeAll, expect, test, vi } from "vitest";
import { JobError, JobPool } from "../../../src/build/jobs/jobPool";

vi.setConfig({ testTimeout: 60_000 });

interface Job {
  readonly name: string;
  readonly does?: "die" | "throw" | "wait";
}
interface Done {
  readonly name: string;
  readonly pid: number;
}

/** Does jobs as `serveJobs` does, in a script that needs no bundling. */
const worker = `
process.on("disconnect", () => process.exit(0));
process.on("message", ({ id, job }) => {
  if (job.does === "die") process.exit(3);
  if (job.does === "throw") return process.send({ kind: "fault", id, text: "no such thing" });
  const done = () => process.send({ kind: "done", id, result: { name: job.name, pid: process.pid }, memoryMB: 50 });
  if (job.does === "wait") process.send({ kind: "news", id, news: process.pid });
  else setTimeout(done, 20);
});
process.send({ kind: "ready" });
`;

let folder: string;
let script: string;
let pool: JobPool<Job, Done, number>;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "anadem-pool-"));
  script = join(folder, "worker.cjs");
  writeFileSync(script, worker);
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));
afterEach(() => pool.dispose());

const isAlive = (pid: number): boolean => {
  try {
    process.kill(pid, 0);
    return true;
  } catch {
    return false;
  }
};

test("a job whose process dies is begun once more, and takes no other job with it", async () => {
  pool = new JobPool({ script, processes: 2 });
  const jobs: Job[] = [
    { name: "a" },
    { name: "b", does: "die" },
    { name: "c" },
    { name: "d", does: "throw" },
  ];
  const ends = await Promise.allSettled(jobs.map((job) => pool.do(job)));
  expect(ends.map(({ status }) => status)).toEqual(["fulfilled", "rejected", "fulfilled", "rejected"]);
  expect((ends[1] as PromiseRejectedResult).reason).toBeInstanceOf(JobError);
  expect((ends[3] as PromiseRejectedResult).reason.message).toBe("no such thing");
});

test("a process killed by its id is replaced, and its job done", async () => {
  pool = new JobPool({ script, processes: 1 });
  let killed = 0;
  const end = pool.do(
    { name: "a", does: "wait" },
    {
      onNews: (pid) => {
        if (killed === 0) process.kill(pid, "SIGKILL");
        killed++;
        if (killed === 2) void pool.dispose();
      },
    },
  );
  // Begun a second time in another process, which this test ends by closing the pool.
  await expect(end).rejects.toThrow("the pool is closed");
  expect(killed).toBe(2);
  expect(pool.processIds).toEqual([]);
});

test("jobs of one mark go to one process while there is other work", async () => {
  pool = new JobPool({ script, processes: 2 });
  const marks = ["w1", "w2", "w3", "w4"];
  const jobs = ["x", "y", "z"].flatMap((design) => marks.map((mark) => ({ design, mark })));
  const done = await Promise.all(
    jobs.map(async ({ design, mark }) => ({ mark, ...(await pool.do({ name: design }, { like: mark })) })),
  );
  const processesOf = (mark: string) =>
    new Set(done.filter((one) => one.mark === mark).map(({ pid }) => pid)).size;
  // Only the last mark may be shared, when nothing else is left.
  expect(marks.filter((mark) => processesOf(mark) > 1).length).toBeLessThanOrEqual(1);
});

test("an abort ends the job's process at once, and leaves no listener behind", async () => {
  pool = new JobPool({ script, processes: 1 });
  const controller = new AbortController();
  let pid = 0;
  const end = pool.do(
    { name: "a", does: "wait" },
    {
      signal: controller.signal,
      onNews: (id) => {
        pid = id;
        controller.abort(new Error("enough"));
      },
    },
  );
  await expect(end).rejects.toThrow("enough");
  await pool.dispose();
  expect(isAlive(pid)).toBe(false);
  pool = new JobPool({ script, processes: 1 });
  const { signal } = new AbortController();
  const remove = vi.spyOn(signal, "removeEventListener");
  const add = vi.spyOn(signal, "addEventListener");
  expect(await pool.do({ name: "b" }, { signal })).toMatchObject({ name: "b" });
  expect(remove.mock.calls.length).toBe(add.mock.calls.length);
});
