import { orientationPicture } from "../../export/orientationPicture";
import { loadKernel } from "../../geometry/solid/kernel";
import { orientationWords } from "../../print/orientation/orientationWords";
import { headMatrix, placedPiece } from "../../print/placedPiece";
import type { PlatePrint, PrintPlan } from "../../print/plan";
import type { PlanFinding } from "../../print/planFinding";
import { planPrint } from "../../print/planPrint";
import { supportSurface } from "../../print/support/supportSurface";
import type { Finished } from "../finished";
import { Heads } from "../heads";
import { reportPlanOf } from "../planning";
import { type Weighed, weigh } from "../weighing";
import type { ToMeasure } from "./measuring";
import type { MeshArrays, PlanEvent, PlanFacts, PlanOutcome } from "./protocol";

/** A finished piece as it goes to the thread that plans: plain data, and a flag that is not 0 once it is not wanted. */
export interface ToPlan extends ToMeasure {
  readonly cancelled: Int32Array;
}

/** Plans prints in a thread. @param kernelFile path of `manifold.wasm` */
export const planInThread =
  (kernelFile: string) =>
  async (piece: ToPlan, tell: (event: PlanEvent) => void): Promise<PlanOutcome> => {
    const kernel = await loadKernel(kernelFile);
    const finished = finishedOf(piece);
    const isCancelled = () => Atomics.load(piece.cancelled, 0) !== 0;
    if (isCancelled()) return { messages: [] };
    const weighed = weigh(finished);
    const pictures = new Pictures(weighed);
    let told: PrintPlan | undefined;
    let outcome: PlanOutcome = { messages: [] };
    for (const plan of planPrint(kernel, weighed.job, weighed.standing)) {
      if (isCancelled()) return { messages: [] };
      const report = reportPlanOf(plan, weighed, finished);
      const facts = factsOf(plan, weighed, pictures.of(plan));
      tell({ kind: "plan", plan: { ...facts, plan: report } });
      for (const event of bodiesOf(plan, told)) tell(event);
      told = plan;
      outcome = { plan: report, messages: [] };
      // What was told is sent, and a newer piece heard of, before the next step.
      await new Promise((resolve) => setImmediate(resolve));
    }
    return outcome;
  };

const heads = new Heads();

function finishedOf({ design, result, parties, solid, messages }: ToMeasure): Finished {
  return { design, result, parties, head: heads.of(parties.wearer, result), solid, messages };
}

/** Pictures of the ways up, each drawn once. */
class Pictures {
  readonly #weighed: Weighed;
  #drawn: readonly string[] = [];

  constructor(weighed: Weighed) {
    this.#weighed = weighed;
  }

  of({ search }: PrintPlan): readonly string[] {
    if (!search || this.#drawn.length > 0) return this.#drawn;
    const { mesh, printer } = this.#weighed.job;
    this.#drawn = search.found.map(({ orientation }) =>
      orientationPicture(
        placedPiece(mesh, orientation, printer.plate),
        printer.plate,
        orientationWords(orientation),
      ),
    );
    return this.#drawn;
  }
}

function factsOf(
  plan: PrintPlan,
  { job: { printer } }: Weighed,
  pictures: readonly string[],
): Omit<PlanFacts, "plan"> {
  const [{ placed, layers, totals }] = plan.plates;
  return {
    isWhole: plan.isWhole,
    findings: plan.findings as readonly PlanFinding[],
    outline: printer.plate,
    height: printer.height,
    toHead: headMatrix(placed),
    layers: {
      height: layers.layerHeight,
      seconds: totals.secondsSoFar,
      metres: totals.metresSoFar,
      spoolEnds: totals.spoolEnds.map(({ layer }) => layer),
    },
    pictures,
  };
}

/** What stands on the first plate besides the piece, where that has changed. */
function* bodiesOf(plan: PrintPlan, told: PrintPlan | undefined): Generator<PlanEvent> {
  const [plate] = plan.plates;
  const before: PlatePrint | undefined = told?.plates[0];
  if (plate.support !== before?.support) {
    const surface = plate.support.runs.count > 0 ? supportSurface(plate.support) : undefined;
    yield { kind: "planBody", body: "supports", ...(surface && { mesh: plain(surface) }) };
  }
  if (plate.props?.mesh !== before?.props?.mesh || !told) {
    yield { kind: "planBody", body: "props", ...(plate.props?.mesh && { mesh: plain(plate.props.mesh) }) };
  }
  if ((plan.pieces === undefined) !== (told?.pieces === undefined) || !told) {
    const isCut = plan.plates.length > 0 && (plan.pieces?.pieces.length ?? 1) > 1;
    yield { kind: "planBody", body: "pieces", ...(isCut && { mesh: plain(plate.placed.mesh) }) };
  }
}

const plain = ({ positions, triangles }: MeshArrays): MeshArrays => ({ positions, triangles });
