import { type Profiler, Session } from "node:inspector/promises";

/** Tells what a stretch of time cost the extension host, by samples of its stack. */
export class HostProfiler {
  readonly #session = new Session();

  private constructor() {
    this.#session.connect();
  }

  static async begin(): Promise<HostProfiler> {
    const profiler = new HostProfiler();
    await profiler.#session.post("Profiler.enable");
    await profiler.#session.post("Profiler.setSamplingInterval", { interval: 1000 });
    await profiler.#session.post("Profiler.start");
    return profiler;
  }

  /** ms in code that ours called or is, and ms in any. */
  async end(): Promise<{ readonly busyOurs: number; readonly busyAll: number }> {
    const { profile } = await this.#session.post("Profiler.stop");
    this.#session.disconnect();
    return shares(profile);
  }
}

const isIdle = ({ callFrame: { functionName } }: Profiler.ProfileNode): boolean =>
  functionName === "(idle)" || functionName === "(root)";
/** Our bundle, and what reads the messages of our process. */
const isOurs = ({ callFrame: { url, functionName } }: Profiler.ProfileNode): boolean =>
  url.includes("/dist/extension.cjs") ||
  (functionName === "channel.onread" && url === "node:internal/child_process");
/** What the profile itself costs. */
const isProfiler = ({ callFrame: { url } }: Profiler.ProfileNode): boolean =>
  url.startsWith("node:inspector");

function shares({ nodes, samples = [], timeDeltas = [] }: Profiler.Profile) {
  const byId = new Map(nodes.map((node) => [node.id, node]));
  const parents = new Map(nodes.flatMap(({ id, children = [] }) => children.map((child) => [child, id])));
  const stackOf = (id: number): Profiler.ProfileNode[] => {
    const stack: Profiler.ProfileNode[] = [];
    for (let at: number | undefined = id; at !== undefined; at = parents.get(at)) stack.push(byId.get(at)!);
    return stack;
  };
  let [busyOurs, busyAll] = [0, 0];
  samples.forEach((id, i) => {
    const stack = stackOf(id);
    if (isIdle(stack[0]) || stack.some(isProfiler)) return;
    busyAll += timeDeltas[i] / 1000;
    if (stack.some(isOurs)) busyOurs += timeDeltas[i] / 1000;
  });
  return { busyOurs, busyAll };
}
