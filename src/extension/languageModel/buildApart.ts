import { execFile } from "node:child_process";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { ParameterValue } from "../../design/part";
import type { CommandLine } from "../tasks/commandLine";
import type { ToolBuild } from "./toolResult";

/** A build for somebody else than the person: with files and values of its own. Paths are absolute. */
export interface ApartRequest {
  readonly design: string;
  readonly wearer?: string;
  readonly printer?: string;
  readonly material?: string;
  readonly print?: string;
  readonly values?: Readonly<Record<string, ParameterValue>>;
}

/** Output of a build that is still taken, bytes: reports of large pieces have some hundred thousand. */
const mostOutput = 64 * 1024 * 1024;

/**
 * Builds by the command line, in a process and a folder of its own that is gone afterwards: what the person sees stays
 * as it is. Rejects with an AbortError when cancelled, with an Error when the command line itself went wrong.
 */
export async function buildApart(
  { design, values = {}, ...parties }: ApartRequest,
  { program, words, env }: CommandLine,
  signal: AbortSignal,
): Promise<ToolBuild> {
  const folder = await mkdtemp(join(tmpdir(), "anadem-"));
  const options = [
    ...Object.entries(parties).flatMap(([kind, file]) => (file === undefined ? [] : [`--${kind}=${file}`])),
    ...Object.entries(values).map(([name, value]) => `--set=${name}=${value}`),
    `--out=${folder}`,
    "--json",
  ];
  try {
    const said = await run(program, [...words, "build", ...options, "--", design], env, signal);
    const { ok, messages, report } = JSON.parse(said) as ToolBuild;
    return { ok, messages, report };
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

function run(
  program: string,
  words: readonly string[],
  env: Readonly<Record<string, string>>,
  signal: AbortSignal,
): Promise<string> {
  return new Promise((resolve, reject) => {
    execFile(
      program,
      words,
      { env: { ...process.env, ...env }, signal, maxBuffer: mostOutput },
      (error, stdout, stderr) => {
        // A design with errors ends with another code than 0, and says all of it in its output.
        if (stdout.startsWith("{")) resolve(stdout);
        else reject(error?.name === "AbortError" ? error : new Error(stderr.trim() || String(error)));
      },
    );
  });
}
