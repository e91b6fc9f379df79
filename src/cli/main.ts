import { installedFiles } from "../build/installedFiles";
import { serveAllJobs } from "../build/jobs/jobs";
import { isJobProcess } from "../build/jobs/serveJobs";
import { type Message, MessageError } from "../message";
import { readArguments } from "./arguments";
import { buildCommand } from "./buildCommand";
import { castCommand } from "./castCommand";
import { checkCommand } from "./checkCommand";
import { type Command, exitCodes, UsageError } from "./command";
import { compareCommand } from "./compareCommand";
import { headCommand } from "./headCommand";
import { helpText } from "./help";
import { measureCommand } from "./measureCommand";
import { newCommand } from "./newCommand";
import { planCommand } from "./planCommand";
import { refitCommand } from "./refitCommand";
import { Terminal } from "./terminal";

const commands: readonly Command[] = [
  buildCommand,
  checkCommand,
  planCommand,
  refitCommand,
  compareCommand,
  castCommand,
  measureCommand,
  headCommand,
  newCommand,
];

async function run(words: readonly string[], terminal: Terminal): Promise<number> {
  try {
    const asked = readArguments(words, commands);
    if (asked.kind === "help") terminal.print(helpText(commands, asked.command));
    if (asked.kind === "version") terminal.print(process.env.ANADEM_VERSION ?? "unknown");
    if (asked.kind === "run")
      return await asked.command.run(asked.operand, asked.options, terminal, asked.operands);
    return exitCodes.good;
  } catch (error) {
    const failure = failureOf(error);
    if (!failure) throw error;
    const { code, messages } = failure;
    if (words.includes("--json")) terminal.printJson({ ok: false, messages, report: null, files: [] });
    if (code === exitCodes.faulty) terminal.tell(messages);
    else {
      const hint = messages[0].suggestion;
      terminal.remark(`anadem: ${messages[0].text}${hint ? `\n  hint: ${hint}` : ""}`);
    }
    return code;
  }
}

/** What the person is told of an error that ends a command; undefined for a fault of the program. */
function failureOf(error: unknown): { code: number; messages: readonly Message[] } | undefined {
  if (error instanceof MessageError) return { code: exitCodes.faulty, messages: error.messages };
  const severity = "error" as const;
  if (error instanceof UsageError) {
    const { message: text, hint } = error;
    const message = { id: "wrong-use", severity, text, ...(hint && { suggestion: hint }) };
    return { code: exitCodes.wrongUse, messages: [message] };
  }
  if (error instanceof Error && error.name === "AbortError") {
    const text = "stopped; nothing was written";
    return { code: exitCodes.interrupted, messages: [{ id: "stopped", severity, text }] };
  }
  return undefined;
}

if (isJobProcess()) serveAllJobs(installedFiles());
else await runAsAsked();

async function runAsAsked(): Promise<void> {
  // A reader that closes the pipe early (`anadem … | head`) is no fault.
  process.stdout.on("error", (error: NodeJS.ErrnoException) => process.exit(error.code === "EPIPE" ? 0 : 1));
  const terminal = new Terminal(process.stdout, process.stderr, process.env);
  process.exitCode = await run(process.argv.slice(2), terminal);
}
