import type { BuildRequest } from "../build/engine";
import { Engine } from "../build/engine";
import type { Finished } from "../build/finished";
import { finishedOf } from "../build/finishedFiles";
import { installedFiles } from "../build/installedFiles";
import { type Message, MessageError } from "../message";
import type { Terminal } from "./terminal";

/**
 * Builds a design, exactly, and works on what came of it. What is wrong with either comes back as messages.
 * @param work what is done with the finished piece; it may add messages. Not called where there is none
 */
export async function builtDesign(
  request: BuildRequest,
  terminal: Terminal,
  signal: AbortSignal,
  work: (finished: Finished, messages: Message[]) => void | Promise<void>,
): Promise<Message[]> {
  const engine = new Engine(installedFiles());
  const messages: Message[] = [];
  try {
    const progress = (stage: string, share?: number) => terminal.progress(stage, share);
    const build = await engine.build({ ...request, signal, progress });
    messages.push(...build.messages);
    const finished = finishedOf(request.design, build);
    if (finished) await work(finished, messages);
  } catch (error) {
    if (!(error instanceof MessageError)) throw error;
    messages.push(...error.messages);
  } finally {
    await engine.dispose();
  }
  return messages;
}
