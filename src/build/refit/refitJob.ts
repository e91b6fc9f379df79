import type { EngineFiles } from "../engine";
import type { RefitRow } from "./refitRow";

/** One design on one wearer, to be made. */
export interface RefitJob {
  readonly design: string;
  readonly wearer: string;
}

export interface RefitJobResult {
  readonly row: RefitRow;
}

/** Makes one row. */
export async function doRefitJob(_job: RefitJob, _files: EngineFiles): Promise<RefitJobResult> {
  throw new Error("not there yet");
}
