import { type ChildProcess, execFileSync, spawn } from "node:child_process";
import { existsSync, mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { availableParallelism, tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { refit } from "../../src/build/refit/refitting";
import { Random } from "../../src/design/random";
import { DRAWN_FIELDS, surveyedHeads } from "../../src/head/surveyedHeads";

/** What became of 12 wearers of the survey on the five samples. */
export interface RefitFigures {
  readonly rows: number;
  readonly seconds: number;
  readonly processes: number;
  /** Of all processes together, besides what the bench itself held before, MB. */
  readonly peakMB: number;
  readonly failed: number;
  /** Rows that a run killed half way had made, and of them those that were not made again. */
  readonly madeBefore: number;
  readonly kept: number;
  readonly resumeSeconds: number;
  /** Of a run in which all was good already. */
  readonly idleSeconds: number;
}

const wearers = 12;
const seed = 20260;

/** @param programs folder of the bundled programs */
export async function refitFigures(programs: string, say: (text: string) => void): Promise<RefitFigures> {
  const folder = mkdtempSync(join(tmpdir(), "anadem-bench-refit-"));
  try {
    const samples = resolve("samples");
    const designs = readdirSync(samples)
      .filter((name) => name.endsWith(".headpiece.ts"))
      .map((name) => join(samples, name));
    const files = writeWearers(join(folder, "wearers"));
    const script = resolve(programs, "anadem.mjs");
    const request = { designs, wearers: files };
    say(`refit of ${designs.length} designs on ${files.length} wearers (seed ${seed})…`);
    const memory = watchMemory();
    let began = performance.now();
    const out = join(folder, "whole");
    const { rows } = await refit({ ...request, folder: out }, script);
    const seconds = (performance.now() - began) / 1000;
    const peakMB = memory.stop();

    began = performance.now();
    await refit({ ...request, folder: out }, script);
    const idleSeconds = (performance.now() - began) / 1000;

    say("refit, killed half way by its id and resumed…");
    const half = join(folder, "half");
    const words = ["refit", ...designs, "--wearers", join(folder, "wearers"), "--out", half];
    const child = spawn(process.execPath, [script, ...words], { stdio: "ignore" });
    const madeBefore = await killedAt(child, Math.floor(rows.length / 2), half);
    began = performance.now();
    const resumed = await refit({ ...request, folder: half }, script);
    return {
      rows: rows.length,
      seconds,
      processes: availableParallelism(),
      peakMB,
      failed: rows.filter(({ verdict }) => verdict === "failed").length,
      madeBefore,
      kept: resumed.rows.filter(({ kept }) => kept).length,
      resumeSeconds: (performance.now() - began) / 1000,
      idleSeconds,
    };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Wearers' files of heads of ANSUR II (`head/surveyedHeads.ts`), picked at random. */
function writeWearers(folder: string): string[] {
  mkdirSync(folder);
  const { count, values } = surveyedHeads();
  const fields = ["girth", "length", "breadth", "crownHeight"] as const;
  const random = new Random(seed);
  return Array.from({ length: wearers }, (_, i) => {
    const row = Math.floor(random.between(0, count)) * DRAWN_FIELDS.length;
    const measures = fields.map((field) => [field, values[row + DRAWN_FIELDS.indexOf(field)]]);
    const wearer = {
      name: `Head ${i + 1}`,
      units: "mm",
      ...Object.fromEntries(measures),
      hairThickness: 4,
      ease: { girth: 8 },
    };
    const file = join(folder, `head-${String(i + 1).padStart(2, "0")}.wearer.json`);
    writeFileSync(file, JSON.stringify(wearer));
    return file;
  });
}

/** Kills a refit as soon as so many rows are made. @returns rows that are there once its processes have ended */
async function killedAt(child: ChildProcess, count: number, folder: string): Promise<number> {
  const made = () =>
    (existsSync(folder) ? readdirSync(folder, { recursive: true, encoding: "utf8" }) : []).filter((name) =>
      name.endsWith("row.json"),
    ).length;
  while (made() < count && child.exitCode === null) await wait(50);
  child.kill("SIGKILL");
  // Its processes end as soon as what they do lets them look.
  for (let before = -1; before !== made(); ) {
    before = made();
    await wait(4000);
  }
  return made();
}

/** Looks every quarter of a second at what this process and those below it hold more than it holds now. */
function watchMemory(): { stop(): number } {
  const before = process.memoryUsage.rss() / 2 ** 20;
  let peak = 0;
  const look = () => {
    const list = execFileSync("ps", ["-eo", "pid=,ppid=,rss="], { encoding: "utf8" });
    const all = list
      .trim()
      .split("\n")
      .map((line) => line.trim().split(/\s+/).map(Number));
    const own = new Set([process.pid]);
    for (let grown = true; grown; ) {
      const size = own.size;
      for (const [pid, parent] of all) if (own.has(parent)) own.add(pid);
      grown = own.size > size;
    }
    const held = all.filter(([pid]) => own.has(pid)).reduce((sum, [, , rss]) => sum + rss, 0) / 1024;
    peak = Math.max(peak, held);
  };
  const timer = setInterval(look, 250);
  return {
    stop() {
      clearInterval(timer);
      return peak - before;
    },
  };
}
