import type { EngineClient, EngineReplaced } from "../../build/service/engineClient";

/** What the host of the engine tells the person. */
export interface EngineNews {
  /** The process ended by itself or hung, and is being replaced. */
  lost(how: EngineReplaced): void;
  log(text: string): void;
}

/** Makes the engine's client at first need, and ends it with the window. */
export class EngineHost {
  readonly #make: () => EngineClient;
  readonly #news: EngineNews;
  #client: EngineClient | undefined;
  #isDisposed = false;

  constructor(make: () => EngineClient, news: EngineNews) {
    this.#make = make;
    this.#news = news;
  }

  /** The client; making it starts no process. */
  get client(): EngineClient {
    if (this.#isDisposed) throw new Error("the window is closing");
    if (!this.#client) {
      this.#client = this.#make();
      this.#client.onReplaced((how) => {
        this.#news.log(`engine replaced (${how.reason})${how.complaint ? `: ${how.complaint}` : ""}`);
        if (how.reason !== "asked") this.#news.lost(how);
      });
    }
    return this.#client;
  }

  /** Id of the engine's process, undefined when none runs. */
  get processId(): number | undefined {
    return this.#client?.processId;
  }

  /** Frees what the engine keeps for a design, where there is an engine. */
  forget(design: string): void {
    this.#client?.forget(design);
  }

  async restart(): Promise<void> {
    await this.#client?.restart();
  }

  /** Ends all processes; resolves when they are gone. */
  async dispose(): Promise<void> {
    this.#isDisposed = true;
    const client = this.#client;
    this.#client = undefined;
    await client?.dispose();
  }
}
