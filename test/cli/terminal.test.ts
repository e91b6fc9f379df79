import { existsSync, readdirSync, readFileSync } from "node:fs";
import { platform } from "node:process";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { CommandLine, designText, ended, wearerText } from "./commandLine";

let line: CommandLine;
beforeAll(async () => {
  line = await CommandLine.create();
  line.write("marin.wearer.json", wearerText);
  line.write("ring.headpiece.ts", designText());
  line.write("thrown.headpiece.ts", designText({ head: 'throw new Error("low tide");' }));
}, 120_000);
afterAll(() => line.remove());

// biome-ignore lint/suspicious/noControlCharactersInRegex: it is what is looked for
const codes = /\u001b|\r/;

describe("colour and progress", () => {
  test("a pipe gets plain text", async () => {
    const good = await line.run(["build", "ring.headpiece.ts"]);
    expect(good).toMatchObject({ code: 0, err: "" });
    expect(good.out).not.toMatch(codes);
    const faulty = await line.run(["build", "thrown.headpiece.ts"]);
    expect(faulty.code).toBe(1);
    expect(faulty.err).toMatch(/^thrown\.headpiece\.ts:2:\d+: error: .*low tide/);
    expect(faulty.err).not.toMatch(codes);
  });

  test.each<[string, NodeJS.ProcessEnv, boolean]>([
    ["FORCE_COLOR asks for colour in a pipe too", { FORCE_COLOR: "1" }, true],
    ["FORCE_COLOR=0 does not", { FORCE_COLOR: "0" }, false],
    ["NO_COLOR forbids it", { NO_COLOR: "1" }, false],
    ["an empty NO_COLOR says nothing", { NO_COLOR: "", FORCE_COLOR: "1" }, true],
  ])("%s", async (_, environment, coloured) => {
    const { code, err } = await line.run(["build", "thrown.headpiece.ts"], environment);
    expect(code).toBe(1);
    expect(codes.test(err)).toBe(coloured);
    expect(err).not.toContain("\r");
  });

  test("--json is never coloured", async () => {
    const { out } = await line.run(["build", "thrown.headpiece.ts", "--json"], { FORCE_COLOR: "1" });
    expect(out).not.toMatch(codes);
    expect(JSON.parse(out).ok).toBe(false);
  });
});

/** The processes that a process started, where the system tells (Linux). */
function childrenOf(pid: number): number[] {
  const file = `/proc/${pid}/task/${pid}/children`;
  if (!existsSync(file)) return [];
  const children = readFileSync(file, "utf8").trim().split(/\s+/).map(Number);
  expect(children.length).toBeGreaterThan(0);
  return children;
}

/** Whether a process still runs; one that has ended and was not asked after yet does not. */
function lives(pid: number): boolean {
  try {
    return !/\) [ZX] /.test(readFileSync(`/proc/${pid}/stat`, "utf8"));
  } catch {
    return false;
  }
}

// Signals do not exist on Windows.
describe.skipIf(platform === "win32")("Ctrl-C", () => {
  const many = designText({
    part: `head.around(40, (azimuth, i) => tube(\`reed \${i}\`, [ring.atAzimuth(azimuth), onHead({ azimuth: azimuth + 40, elevation: 30, lift: 12 }), onHead({ azimuth: azimuth + 90, elevation: 55, lift: 20 })], { radius: 5 })),`,
  });
  const folder = () =>
    readdirSync(line.path("kept")).map((name) => [name, readFileSync(line.path(`kept/${name}`))]);

  test.each(["SIGINT", "SIGTERM"] as const)(
    "%s at any moment: nothing half written, the last good files stay",
    async (signal) => {
      line.write("many.headpiece.ts", designText());
      expect((await line.run(["build", "many.headpiece.ts", "--out", "kept"])).code).toBe(0);
      const before = folder();
      line.write("many.headpiece.ts", many);
      for (const wait of signal === "SIGINT" ? [150, 500, 1100] : [700]) {
        const child = line.start(["build", "many.headpiece.ts", "--out", "kept"]);
        const end = ended(child);
        await new Promise((resolve) => setTimeout(resolve, wait));
        child.kill(signal);
        const ran = await end;
        // Before its first line runs, the signal itself ends it; on a fast machine it may have finished.
        if (ran.signal === null) expect([0, 130]).toContain(ran.code);
        else expect(ran.signal).toBe(signal);
        if (ran.code === 130) expect(ran.err).toContain("stopped; nothing was written");
        expect(readdirSync(line.path("kept")).filter((name) => name.endsWith(".tmp"))).toEqual([]);
        if (ran.code !== 0) expect(folder()).toEqual(before);
      }
    },
  );

  test("in an endless design: it ends, and so does the design's process", async () => {
    line.write("endless.headpiece.ts", designText({ head: "for (;;);" }));
    const child = line.start([
      "build",
      "endless.headpiece.ts",
      "--time-limit",
      "600",
      "--out",
      "endless",
      "--json",
    ]);
    const end = ended(child);
    await new Promise((resolve) => setTimeout(resolve, 2500));
    const children = childrenOf(child.pid!);
    child.kill("SIGINT");
    const ran = await end;
    expect(ran.code).toBe(130);
    expect(JSON.parse(ran.out)).toMatchObject({ ok: false, messages: [{ id: "stopped" }], files: [] });
    expect(existsSync(line.path("endless"))).toBe(false);
    await expect.poll(() => children.filter(lives), { timeout: 20_000 }).toEqual([]);
  });
});
