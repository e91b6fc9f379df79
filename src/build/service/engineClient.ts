import type { EngineClient, EngineClientOptions } from "./engineContract";
import { ForkedEngine } from "./forkedEngine";

export type { EngineClient, EngineClientOptions, EngineReplaced } from "./engineContract";
export { EngineLostError } from "./engineContract";

/** The engine for an editor. Starts no process yet. */
export const createEngineClient = (options: EngineClientOptions): EngineClient => new ForkedEngine(options);
