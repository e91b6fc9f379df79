import { plateFit } from "../../checks/plateFit";
import type { DesignResult } from "../../design/part";
import type { Report } from "../../export/report";
import type { SolidResult } from "../../geometry/solid/solidBuilder";
import { type Message, MessageError } from "../../message";
import type { Finished } from "../finished";
import { Heads } from "../heads";
import { judgedStl } from "../judgedStl";
import type { Parties } from "../parties";
import { reportOn } from "../reporting";
import { wearOf } from "../wearing";
import { weigh } from "../weighing";
import { plateFacts } from "./facts";
import type { MeasureEvent } from "./protocol";

/** A finished piece as it goes to the thread that measures: plain data. */
export interface ToMeasure {
  readonly design: string;
  readonly result: DesignResult;
  readonly parties: Parties;
  readonly solid: SolidResult;
  readonly messages: readonly Message[];
}

/** What comes back: the report, or why there is none. */
export interface Measured {
  readonly report?: Report;
  readonly messages: readonly Message[];
}

const heads = new Heads();

/**
 * Measures a finished piece: how it lies on the plate, then each question of fit and wear, told at once; then the judged
 * STL and the report.
 */
export function measurePiece(
  { design, result, parties, solid, messages }: ToMeasure,
  tell: (event: MeasureEvent) => void,
): Measured {
  const head = heads.of(parties.wearer, result);
  const finished: Finished = { design, result, parties, head, solid, messages };
  const fit = plateFit(solid.mesh.positions, parties.printer);
  tell({ kind: "plate", plate: plateFacts(solid.mesh.positions, parties.printer, fit) });
  const weighed = weigh(finished, fit);
  const wear = wearOf(finished, weighed, ({ innerGaps, ...answer }) => {
    if (innerGaps) tell({ kind: "gaps", gaps: innerGaps });
    tell({ kind: "check", answer });
  });
  try {
    const { audit } = judgedStl(finished, weighed);
    return { report: reportOn(finished, weighed, audit, wear), messages: [] };
  } catch (error) {
    if (!(error instanceof MessageError)) throw error;
    return { messages: error.messages };
  }
}
