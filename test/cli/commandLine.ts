import { type ChildProcess, spawn } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { vi } from "vitest";
import { bundleInto } from "../../src/tools/bundle.mjs";
import { root } from "../../src/tools/setup.mjs";

// A build takes a second, and many times that on a machine that is busy with other things.
vi.setConfig({ testTimeout: 300_000, hookTimeout: 300_000 });

export interface Ran {
  readonly code: number | null;
  readonly signal: NodeJS.Signals | null;
  readonly out: string;
  readonly err: string;
}

/** The bundled command line in a folder of its own, run as a person runs it, and a folder to work in. */
export class CommandLine {
  readonly #home = mkdtempSync(join(tmpdir(), "anadem-cli-"));
  /** Where the programs lie. */
  readonly programs = join(this.#home, "programs");
  /** Where it is run. */
  readonly folder = join(this.#home, "work");

  private constructor() {
    mkdirSync(this.folder);
  }

  /** @param options `types`: with the language's types, which `anadem new` gives out */
  static async create(options: { types?: boolean } = {}): Promise<CommandLine> {
    const made = new CommandLine();
    await bundleInto(made.programs, { types: options.types ?? false });
    symlinkSync(join(root, "node_modules"), join(made.#home, "node_modules"), "junction");
    return made;
  }

  path(name: string): string {
    return join(this.folder, name);
  }

  write(name: string, text: string): string {
    mkdirSync(dirname(this.path(name)), { recursive: true });
    writeFileSync(this.path(name), text);
    return this.path(name);
  }

  read(name: string): string {
    return readFileSync(this.path(name), "utf8");
  }

  start(words: readonly string[], environment: NodeJS.ProcessEnv = {}): ChildProcess {
    const { NO_COLOR: _, FORCE_COLOR: __, ...env } = process.env;
    return spawn(process.execPath, [join(this.programs, "anadem.mjs"), ...words], {
      cwd: this.folder,
      env: { ...env, ...environment },
      stdio: ["ignore", "pipe", "pipe"],
    });
  }

  run(words: readonly string[], environment: NodeJS.ProcessEnv = {}): Promise<Ran> {
    return ended(this.start(words, environment));
  }

  remove(): void {
    rmSync(this.#home, { recursive: true, force: true });
  }
}

/** What a started command says and how it ends. */
export function ended(child: ChildProcess): Promise<Ran> {
  let [out, err] = ["", ""];
  child.stdout!.setEncoding("utf8").on("data", (text: string) => {
    out += text;
  });
  child.stderr!.setEncoding("utf8").on("data", (text: string) => {
    err += text;
  });
  return new Promise((resolve) => {
    child.on("close", (code, signal) => resolve({ code, signal, out, err }));
  });
}

/** Everything that matters is measured: how sure the fit is need not be drawn at each build. */
export const wearerText = JSON.stringify({
  name: "Marin",
  units: "mm",
  girth: 570,
  length: 196,
  breadth: 152,
  crownHeight: 130,
  earLength: 62,
  earProtrusion: 22,
  ease: { girth: 8 },
});

/** A small crown: a ring and three rays. `head`: goes before the design; `part`: one more part. */
export const designText = ({
  wearer = "marin.wearer.json",
  part = "",
  head = "",
} = {}) => `import { band, count, headpiece, length, onHead, tube } from "anadem";
${head}
export default headpiece({
  name: "Tide ring",
  wearer: ${JSON.stringify(wearer)},
  parameters: { rays: count(3, { least: 1, most: 9 }), reach: length(30, { least: 10, most: 90 }) },
  make({ head, parameters: { rays, reach } }) {
    const ring = band("ring", head.girthLine.raised(12), { radius: 5 });
    const around = head.around(rays, (azimuth, i) =>
      tube(\`ray \${i + 1}\`, [ring.atAzimuth(azimuth), onHead({ azimuth, elevation: 40, lift: reach })], { radius: [5, 3] }),
    );
    return [
      ring,
      around,
      ${part}
    ];
  },
});
`;
