import type { EngineClient } from "../../src/build/service/engineClient";
import type { BuildEvent, BuildOutcome, DesignFacts, ServiceRequest } from "../../src/build/service/protocol";
import type { ParameterDeclaration } from "../../src/design/part";
import type { Report } from "../../src/export/report";

/** A build that a test lets go on step by step. */
export interface FakeBuild {
  readonly request: ServiceRequest;
  readonly resend: boolean;
  readonly signal: AbortSignal;
  readonly tell: (event: BuildEvent) => void;
  readonly end: (outcome?: Partial<BuildOutcome>) => void;
  readonly fail: (error: unknown) => void;
}

/** An engine that builds what the test says. */
export class FakeEngine implements EngineClient {
  readonly builds: FakeBuild[] = [];
  readonly forgotten: string[] = [];
  readonly processId = undefined;

  get last(): FakeBuild {
    return this.builds[this.builds.length - 1];
  }

  build(
    request: ServiceRequest,
    onEvent: (event: BuildEvent) => void,
    options: { signal?: AbortSignal; resend?: boolean } = {},
  ): Promise<BuildOutcome> {
    const signal = options.signal ?? new AbortController().signal;
    return new Promise((resolve, reject) => {
      signal.addEventListener("abort", () => reject(signal.reason));
      this.builds.push({
        request,
        signal,
        resend: options.resend ?? false,
        tell: onEvent,
        end: (outcome = {}) => resolve({ ...goodOutcome(request.design), ...outcome }),
        fail: reject,
      });
    });
  }

  forget(design: string): void {
    this.forgotten.push(design);
  }

  plan = () => Promise.resolve({ messages: [] });
  export = () => Promise.reject(new Error("not asked for in these tests"));
  sheet = () => Promise.resolve(undefined);
  warm = () => Promise.resolve();
  restart = () => Promise.resolve();
  dispose = () => Promise.resolve();
  prepare = () => {};
  onReplaced = () => ({ dispose() {} });
}

export const goodOutcome = (design: string): BuildOutcome => ({
  ok: true,
  messages: [],
  inputs: [design],
  report: { massPrintedG: 84 } as Report,
  times: {},
  memoryMB: 100,
});

export const factsWith = (parameters: readonly ParameterDeclaration[] = []): DesignFacts => ({
  header: { name: "Wreath", print: {}, parameters },
  values: {},
  wearer: "Maris",
  ease: { offset: 1, hair: 2 },
  printer: "round 250",
  material: "PLA",
  print: "as usual",
  parts: [],
});

export const meshOf = (size: number) => ({
  positions: new Float32Array(9).fill(size),
  triangles: new Uint32Array([0, 1, 2]),
});
