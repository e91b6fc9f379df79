import { spawn } from "node:child_process";
import { writeFileSync } from "node:fs";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { Evaluator } from "../../src/build/evaluator";
import { bundleEvaluator } from "./bundleEvaluator";
import { EvaluatorRig, input, designName as name, withMake } from "./evaluatorRig";

/** Shorter than a design's 10 s and 1024 MB, so that the tests are short. */
const timeLimitSeconds = 0.6;
const memoryLimitMB = 250;

let rig: EvaluatorRig;
beforeAll(async () => {
  rig = await EvaluatorRig.create();
});
afterAll(() => rig.dispose());
beforeEach(() => rig.newFolder());
afterEach(() => rig.folder.remove());

function lives(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch {
    return false;
  }
}

describe("the time limit", () => {
  test("an endless loop, at its line", async () => {
    const error = await rig.errorAtMark(withMake("let n = 0;\n  /*@*/while (n >= 0) n = n === 0 ? 1 : 0;"), {
      timeLimitSeconds,
    });
    expect(error).toMatchObject({ id: "time-limit", text: "the design ran for more than 0.6 s" });
  });

  test("a loop in a helper of a second file, called from the top level", async () => {
    const { messages } = await rig.run(
      {
        [name]: `import { headpiece } from "anadem";
import { wait } from "./wait";
/*@*/wait(3);
export default headpiece({ name: "Crown", make: () => [] });
`,
        "wait.ts": `export function wait(n: number) {
  do {
    n = 7 - n;
  } while (n > 0);
}
`,
      },
      { timeLimitSeconds },
    );
    expect(messages).toHaveLength(1);
    expect(messages[0].id).toBe("time-limit");
    expect(messages[0].file).toBe(rig.folder.file("wait.ts"));
    // Any of the loop's own lines is where it was.
    expect([2, 3, 4]).toContain(messages[0].line);
    expect(messages[0].notes).toEqual([{ text: "called here", ...rig.folder.place(name) }]);
  });

  test("promises that never come to rest", async () => {
    const { messages } = await rig.run(
      withMake("const again = (): any => Promise.resolve().then(again);\nagain();\nreturn [];"),
      { timeLimitSeconds },
    );
    expect(messages).toMatchObject([{ id: "time-limit", file: rig.folder.file(name), line: 5 }]);
  });

  test("a regular expression that tries for ever", async () => {
    const { messages } = await rig.run(withMake(`return [/^(a+)+$/.test("${"a".repeat(60)}b")];`), {
      timeLimitSeconds,
    });
    expect(messages).toMatchObject([{ id: "time-limit", file: rig.folder.file(name), line: 5 }]);
  });

  test("does not count what the engine does between header and make", async () => {
    const { result } = await rig.run(withMake("return [];"), {
      timeLimitSeconds,
      provideInput: () => new Promise((resolve) => setTimeout(resolve, 900, input)),
    });
    expect(result?.parts).toEqual([]);
  });
});

describe("the memory limit", () => {
  test("a list without an end, at its line", async () => {
    const error = await rig.errorAtMark(
      withMake("const list = [];\n  /*@*/for (;;) list.push(new Array(1000).fill(7));"),
      { memoryLimitMB },
    );
    expect(error).toMatchObject({ id: "memory-limit", text: "the design used more than 250 MB of memory" });
  });

  test("typed arrays, which lie outside of the heap", async () => {
    const { messages } = await rig.run(
      withMake("const list = [];\nwhile (true) list.push(new Uint8Array(2e6).fill(1));"),
      { memoryLimitMB },
    );
    expect(messages).toMatchObject([{ id: "memory-limit", file: rig.folder.file(name), line: 6 }]);
  });

  test("more than can be had in one piece is an ordinary error", async () => {
    const error = await rig.errorAtMark(withMake("return [/*@*/new Float64Array(1e12)];"));
    expect(error.text).toMatch(/array (?:buffer|length)/i);
  });
});

describe("too large a result", () => {
  test("names the 5,001st part", async () => {
    const error = await rig.errorAtMark(
      withMake(`const parts = [];
for (let i = 0; i < 5000; i++) parts.push(tube("stem " + i, [[0, 0, 0], [1, 1, i]]));
parts.push(/*@*/tube("the last straw", [[0, 0, 0], [1, 1, 1]]));
return parts;`),
    );
    expect(error).toMatchObject({ id: "too-large", part: "the last straw" });
    expect(error.text).toBe("part 5001 is one too many: a headpiece has at most 5000 parts");
  });

  test("names the part that brings 2 million points", async () => {
    const { messages } = await rig.run(withMake(`return [solid("gem", 1999999), solid("pearl", 2)];`));
    expect(messages).toMatchObject([{ id: "too-large", part: "pearl" }]);
  });

  test("what cannot be passed on is told", async () => {
    const { messages } = await rig.run(
      withMake("return [{ kind: 'tube', shape: { path: { points: [] }, section: {}, f() {} } }];"),
    );
    expect(messages).toMatchObject([{ id: "not-plain-data", file: rig.folder.file(name), line: 2 }]);
  });
});

describe("processes", () => {
  test("a crash is told with its signal", async () => {
    const evaluation = rig.run(withMake("for (;;);"), {
      provideInput: () => {
        setTimeout(() => {
          for (const pid of rig.evaluator.processIds) process.kill(pid, "SIGSEGV");
        }, 200);
        return input;
      },
    });
    const { messages } = await evaluation;
    expect(messages).toMatchObject([{ id: "design-process-ended", file: rig.folder.file(name), line: 2 }]);
    expect(messages[0].text).toMatch(/SIGSEGV/);
  });

  test("a way round the world ends the process only", async () => {
    const { messages } = await rig.run(withMake('return [Function("return process.exit(3)")()];'));
    expect(messages).toMatchObject([{ id: "design-process-ended", file: rig.folder.file(name), line: 2 }]);
    expect(messages[0].text).toMatch(/with code 3/);
  });

  test("memory that runs out before the watchdog sees it is told as that", async () => {
    const entry = rig.folder.file("exhausted.cjs");
    rig.folder.write({
      [name]: withMake("return [];"),
      // What V8 writes, and how it ends, when its heap is full.
      "exhausted.cjs": `process.send({ kind: "ready" });
process.on("message", () => {
  console.error("FATAL ERROR: Reached heap limit Allocation failed - JavaScript heap out of memory");
  process.abort();
});
`,
    });
    const evaluator = new Evaluator({ entry });
    const { design } = await rig.compiler.compile(rig.folder.file(name));
    const { messages } = await evaluator.evaluate({ ...design!, provideInput: () => input });
    expect(messages).toMatchObject([{ id: "memory-limit", file: rig.folder.file(name), line: 2 }]);
    await evaluator.dispose();
  });

  test("a script that is missing is told with Node's reason", async () => {
    const evaluator = new Evaluator({ entry: rig.folder.file("none.cjs"), keepSpare: false });
    rig.folder.write({ [name]: withMake("return [];") });
    const { design } = await rig.compiler.compile(rig.folder.file(name));
    const { messages } = await evaluator.evaluate({ ...design!, provideInput: () => input });
    expect(messages).toMatchObject([{ id: "design-process-ended" }]);
    expect(evaluator.processIds).toEqual([]);
    await evaluator.dispose();
  });

  test("cancelling kills within 2 s and rejects with the reason", async () => {
    const cancel = new AbortController();
    let aborted = 0;
    const evaluation = rig.run(withMake("for (;;);"), { signal: cancel.signal });
    await expect.poll(() => rig.evaluator.processIds.length).toBeGreaterThan(0);
    const [pid] = rig.evaluator.processIds;
    setTimeout(() => {
      aborted = performance.now();
      cancel.abort(new Error("saved again"));
    }, 300);
    await expect(evaluation).rejects.toThrow("saved again");
    await expect.poll(() => lives(pid)).toBe(false);
    expect(performance.now() - aborted).toBeLessThan(2_000);
  });

  test("a signal that is given already starts nothing", async () => {
    await expect(rig.run(withMake("return [];"), { signal: AbortSignal.abort() })).rejects.toThrow();
  });

  test("dispose ends what runs and what waits", async () => {
    const evaluator = new Evaluator({ entry: rig.entry });
    await rig.run(withMake("for (;;);"), { timeLimitSeconds: 0.1 });
    const { design } = await rig.compiler.compile(rig.folder.file(name));
    const evaluation = evaluator.evaluate({ ...design!, provideInput: () => input });
    evaluation.catch(() => {});
    await evaluator.warm();
    const pids = evaluator.processIds;
    expect(pids).toHaveLength(2);
    await evaluator.dispose();
    expect(pids.filter(lives)).toEqual([]);
    await expect(evaluation).rejects.toThrow("disposed");
  });

  test("end with the engine, even one that is killed while a design loops", async () => {
    const { entry, remove } = await bundleEvaluator(new URL("./loopingEngine.ts", import.meta.url).pathname);
    rig.folder.write({ [name]: withMake("for (;;);") });
    const { design } = await rig.compiler.compile(rig.folder.file(name));
    const job = rig.folder.file("job.json");
    writeFileSync(job, JSON.stringify({ design, entry: rig.entry }));
    const engine = spawn(process.execPath, [entry, job], { stdio: ["ignore", "pipe", "inherit"] });
    const pids: number[] = await new Promise((resolve) => {
      engine.stdout.on("data", (text) => resolve(JSON.parse(String(text))));
    });
    expect(pids).toHaveLength(2);
    expect(pids.every(lives)).toBe(true);
    engine.kill("SIGKILL");
    await expect.poll(() => pids.filter(lives), { timeout: 2_000 }).toEqual([]);
    remove();
  });
});
