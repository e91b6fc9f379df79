import type { EngineClient } from "../../src/build/service/engineClient";
import type {
  BuildEvent,
  BuildOutcome,
  DesignFacts,
  PlanEvent,
  PlanFacts,
  PlanOutcome,
  ServiceRequest,
} from "../../src/build/service/protocol";
import type { ParameterDeclaration } from "../../src/design/part";
import type { ReportPlan } from "../../src/export/planReport";
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

/** A plan of a print that a test lets go on step by step. */
export interface FakePlan {
  readonly design: string;
  readonly signal: AbortSignal;
  readonly tell: (event: PlanEvent) => void;
  readonly end: (outcome: PlanOutcome) => void;
  readonly fail: (error: unknown) => void;
}

/** An engine that builds what the test says, and plans it where the test says so. */
export class FakeEngine implements EngineClient {
  readonly builds: FakeBuild[] = [];
  readonly plans: FakePlan[] = [];
  /** Else each plan is at once known not to come. */
  plansByHand = false;
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

  /** As the real one, it gives a plan up when the design is built again: it is the test that fails it then. */
  plan(
    design: string,
    tell: (event: PlanEvent) => void,
    signal = new AbortController().signal,
  ): Promise<PlanOutcome> {
    if (!this.plansByHand) return Promise.resolve({ messages: [] });
    return new Promise((end, fail) => this.plans.push({ design, signal, tell, end, fail }));
  }

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

/** The first that a plan tells, with what it found. */
export const planFactsWith = (plan: ReportPlan, findings: PlanFacts["findings"] = []): PlanFacts => ({
  isWhole: false,
  plan,
  findings,
  outline: { shape: "rectangular", width: 220, depth: 220 },
  height: 250,
  toHead: [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1],
  layers: { height: 0.2, seconds: new Float64Array([60]), metres: new Float64Array([1]), spoolEnds: [] },
  pictures: [],
});
