import type { DesignCompiler } from "../compile";
import type { Engine } from "../engine";
import { exportDesign, sheetOf } from "./exporting";
import type { BuildEvent, FromService, PlanEvent, ToService } from "./protocol";
import { Session } from "./session";
import { CalledThread } from "./threadCalls";

/**
 * Answers an editor: one build a design at a time, the newest; what is known of a design is kept for the next. Nothing
 * is sent of a build once a newer one of the same design was asked for, or it was cancelled.
 */
export class EngineService {
  readonly #engine: Engine;
  readonly #compiler: DesignCompiler;
  readonly #script: string;
  readonly #send: (message: FromService) => void;
  readonly #sessions = new Map<string, Session>();
  readonly #running = new Map<number, AbortController>();

  constructor(
    engine: Engine,
    compiler: DesignCompiler,
    script: string,
    send: (message: FromService) => void,
  ) {
    this.#engine = engine;
    this.#compiler = compiler;
    this.#script = script;
    this.#send = send;
  }

  receive(message: ToService): void {
    switch (message.kind) {
      case "build":
        void this.#answer(message.id, async (signal) => {
          const session = this.#session(message.request.design);
          const tell = (event: BuildEvent) => {
            if (!signal.aborted) this.#send({ kind: "event", id: message.id, event });
          };
          const outcome = await session.build(message.request, signal, tell, message.resend ?? false);
          return { kind: "built", id: message.id, outcome };
        });
        break;
      case "plan":
        void this.#answer(message.id, async (signal) => {
          const tell = (event: PlanEvent) => {
            if (!signal.aborted) this.#send({ kind: "event", id: message.id, event });
          };
          const outcome = await this.#session(message.design).plan(signal, tell);
          return { kind: "planned", id: message.id, outcome };
        });
        break;
      case "prepare":
        // What is wrong with it is told when it is built.
        this.#compiler.compile(message.design, message.texts).catch(() => {});
        break;
      case "export":
        void this.#answer(message.id, async (signal) => {
          const outcome = await this.#session(message.request.design).alone(() =>
            exportDesign(this.#engine, message.request, signal),
          );
          return { kind: "exported", id: message.id, outcome };
        });
        break;
      case "sheet":
        void this.#answer(message.id, async (signal) => {
          const sheet = await this.#session(message.request.design).alone(() =>
            sheetOf(this.#engine, message.request, signal),
          );
          return { kind: "sheet", id: message.id, ...sheet };
        });
        break;
      case "cancel":
        this.#running.get(message.id)?.abort();
        break;
      case "forget":
        void this.#forget(message.design);
        break;
      case "ping":
        this.#send({ kind: "pong", id: message.id });
        break;
    }
  }

  async #answer(id: number, work: (signal: AbortSignal) => Promise<FromService>): Promise<void> {
    const controller = new AbortController();
    this.#running.set(id, controller);
    try {
      this.#send(await work(controller.signal));
    } catch (error) {
      if ((error as Error | undefined)?.name === "AbortError") this.#send({ kind: "cancelled", id });
      else this.#send({ kind: "fault", id, text: faultText(error) });
    } finally {
      this.#running.delete(id);
    }
  }

  async #forget(design: string): Promise<void> {
    const session = this.#sessions.get(design);
    this.#sessions.delete(design);
    await session?.end();
    this.#engine.forget(design);
  }

  #session(design: string): Session {
    const known = this.#sessions.get(design);
    if (known) return known;
    const session = new Session(
      this.#engine,
      new CalledThread(this.#script, "measure"),
      new CalledThread(this.#script, "plan"),
    );
    this.#sessions.set(design, session);
    return session;
  }
}

const faultText = (error: unknown): string =>
  error instanceof Error ? (error.stack ?? error.message) : String(error);
