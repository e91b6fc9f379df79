import { MessageError } from "../message";
import { readArguments } from "./arguments";
import { buildCommand } from "./buildCommand";
import { type Command, exitCodes, UsageError } from "./command";
import { headCommand } from "./headCommand";
import { helpText } from "./help";
import { newCommand } from "./newCommand";
import { Terminal } from "./terminal";

const commands: readonly Command[] = [buildCommand, headCommand, newCommand];

async function run(words: readonly string[], terminal: Terminal): Promise<number> {
  try {
    const asked = readArguments(words, commands);
    if (asked.kind === "help") terminal.print(helpText(commands, asked.command));
    if (asked.kind === "version") terminal.print(process.env.ANADEM_VERSION ?? "unknown");
    if (asked.kind === "run") return await asked.command.run(asked.operand, asked.options, terminal);
    return exitCodes.good;
  } catch (error) {
    if (error instanceof UsageError) {
      terminal.remark(`anadem: ${error.message}${error.hint ? `\n  hint: ${error.hint}` : ""}`);
      return exitCodes.wrongUse;
    }
    if (error instanceof MessageError) {
      terminal.tell(error.messages);
      return exitCodes.faulty;
    }
    if (error instanceof Error && error.name === "AbortError") {
      terminal.remark("anadem: stopped; nothing was written");
      return exitCodes.interrupted;
    }
    throw error;
  }
}

// A reader that closes the pipe early (`anadem … | head`) is no fault.
process.stdout.on("error", (error: NodeJS.ErrnoException) => process.exit(error.code === "EPIPE" ? 0 : 1));

const terminal = new Terminal(process.stdout, process.stderr, process.env);
process.exitCode = await run(process.argv.slice(2), terminal);
