import type { BuildRequest } from "../engine";
import type { ServiceRequest } from "./protocol";

/** What an editor's request is to the engine. */
export function buildRequestOf(request: ServiceRequest): BuildRequest {
  const { design, texts, wearer, printer, material, print, values, timeLimitSeconds, memoryLimitMB } =
    request;
  return {
    design,
    ...(texts && { texts }),
    ...(wearer && { wearer }),
    ...(printer && { printer }),
    ...(material && { material }),
    ...(print && { print }),
    ...(values && { values }),
    ...(timeLimitSeconds !== undefined && { timeLimitSeconds }),
    ...(memoryLimitMB !== undefined && { memoryLimitMB }),
  };
}
