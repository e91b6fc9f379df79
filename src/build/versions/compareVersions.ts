import { availableParallelism } from "node:os";
import { loadKernel } from "../../geometry/solid/kernel";
import { type Message, MessageError } from "../../message";
import type { EngineFiles } from "../engine";
import { compareSides } from "./compareSides";
import type { CompareRequest, CompareResult } from "./comparison";
import { type Version, versionOf } from "./version";
import { otherWearer } from "./versionMessages";
import { buildSide, type SideRequest, type SideResult } from "./versionSide";

export interface CompareOptions {
  readonly signal?: AbortSignal;
  /** Builds the older piece in another process, where there is one: both then take as long as one. */
  readonly elsewhere?: (request: SideRequest) => Promise<SideResult>;
}

/**
 * Builds a design as it is and as it was in a commit, and compares the two. The older one is read from git's objects
 * into a folder of its own, with all that it imports and its wearer, and built by the same engine in the same isolation;
 * the folder is removed in every case. What is wrong with either comes back as messages, those on the older one with
 * their places as git names them.
 * @param tell is told how far the work is
 */
export async function compareVersions(
  request: CompareRequest,
  files: EngineFiles,
  tell: (stage: string) => void = () => {},
  options: CompareOptions = {},
): Promise<CompareResult> {
  const messages: Message[] = [];
  let version: Version | undefined;
  try {
    tell("reading the commit");
    version = await versionOf(request.design, request.against ?? "HEAD", request.git, options.signal);
    messages.push(...version.messages);
    tell("building both");
    const [before, after] = await bothSides(request, version.design, files, options);
    const given = [request.wearer, request.printer, request.material, request.print];
    const old = version.told(
      before,
      given.filter((file) => file !== undefined),
    );
    // Warnings of the older piece are none of today's; what keeps it from being compared is.
    messages.push(...after.messages, ...(before.built ? old.filter(isError) : old));
    if (!before.built || !after.built || messages.some(isError)) return { ok: false, messages };
    tell("comparing");
    const kernel = await loadKernel(files.kernel);
    options.signal?.throwIfAborted();
    const found = compareSides(kernel, request.design, version.revision, before.built, after.built);
    if (!found.comparison.sameHead) {
      messages.push(otherWearer(before.built.report.wearer, after.built.report.wearer, request.design));
    }
    return { ok: true, ...found, messages };
  } catch (error) {
    if (!(error instanceof MessageError)) throw error;
    return { ok: false, messages: [...messages, ...error.messages] };
  } finally {
    version?.remove();
  }
}

async function bothSides(
  { against: _, git: __, ...now }: CompareRequest,
  oldDesign: string,
  files: EngineFiles,
  { signal, elsewhere }: CompareOptions,
): Promise<[SideResult, SideResult]> {
  const { texts: _texts, settings: _settings, values: _values, ...given } = now;
  const old: SideRequest = { ...given, design: oldDesign };
  if (elsewhere && availableParallelism() > 1) {
    return Promise.all([elsewhere(old), buildSide(now, files, signal)]);
  }
  return [await buildSide(old, files, signal), await buildSide(now, files, signal)];
}

const isError = ({ severity }: Message): boolean => severity === "error";
