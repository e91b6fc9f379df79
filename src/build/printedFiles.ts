import { placedStl } from "../export/placedStl";
import { type ThreeMfObject, threeMf } from "../export/threeMf";
import { workshopOf } from "../export/workshopOf";
import type { TriangleMesh } from "../geometry/mesh";
import type { Kernel } from "../geometry/solid/kernel";
import { uniteWithPiece } from "../geometry/solid/unite";
import { placedPiece } from "../print/placedPiece";
import type { PrintJob, PrintPlan } from "../print/plan";
import type { PlannedPiece } from "./finishedFiles";
import type { OutputFile } from "./outputs";

/** The files of a planned print, those of `plateFiles`, and the workshop sheet. Paths are what follows the design's name. */
export function printedFiles(kernel: Kernel, piece: PlannedPiece): OutputFile[] {
  const { plan, report, weighed } = piece;
  const content = workshopOf(report, plan, weighed.job);
  return [...plateFiles(kernel, piece), { kind: "workshop-html", path: ".workshop.html", content }];
}

/** Each plate as it lies, STL and 3MF; where the piece is cut, each of its pieces too. */
export function plateFiles(
  kernel: Kernel,
  { finished, weighed, plan }: Pick<PlannedPiece, "finished" | "weighed" | "plan">,
): OutputFile[] {
  const { name } = finished.result;
  const several = plan.plates.length > 1;
  const plates = plan.plates.flatMap(({ placed }, i): OutputFile[] => {
    const suffix = several ? `.plate-${i + 1}` : ".plate";
    const title = several ? `${name}, plate ${i + 1} of ${plan.plates.length}` : name;
    const props = plan.plates[i].props?.mesh;
    // Props touch the piece by their necks: one body in an STL, one of their own in a 3MF.
    const body = props ? uniteWithPiece(kernel, placed.mesh, props, -1) : placed.mesh;
    return [
      { kind: "plate-stl", path: `${suffix}.stl`, content: placedStl(body, title) },
      {
        kind: "plate-3mf",
        path: `${suffix}.3mf`,
        content: threeMf(objectsOf(plan, i, name, weighed.job), { title }),
      },
    ];
  });
  const pieces = isCut(plan)
    ? plan.pieces!.pieces.map(
        ({ letter, name: piece, mesh, orientation }): OutputFile => ({
          kind: "piece-stl",
          path: `.piece-${letter}.stl`,
          content: placedStl(
            placedPiece(mesh, orientation, weighed.job.printer.plate).mesh,
            `${name}, piece ${piece}`,
          ),
        }),
      )
    : [];
  return [...plates, ...pieces];
}

const isCut = ({ pieces }: PrintPlan): boolean => (pieces?.pieces.length ?? 1) > 1;

/** What stands on a plate, each body by its name; a 3MF counts from the plate's corner. */
function objectsOf(plan: PrintPlan, plate: number, name: string, { printer }: PrintJob): ThreeMfObject[] {
  const [x, y] =
    printer.plate.shape === "round"
      ? [printer.plate.diameter / 2, printer.plate.diameter / 2]
      : [printer.plate.width / 2, printer.plate.depth / 2];
  const places = [{ shift: [x, y, 0] as const }];
  if (isCut(plan)) {
    const { plates, pieces } = plan.pieces!;
    return plates[plate].pieces.map(({ piece, rotation, shift }) => ({
      name: `${name}, piece ${pieces[piece].name}`,
      mesh: pieces[piece].mesh,
      places: [{ rotation, shift: [shift[0] + x, shift[1] + y, shift[2]] as const }],
    }));
  }
  const { placed, props } = plan.plates[plate];
  const bodies: [string, TriangleMesh | undefined][] = [
    [name, placed.mesh],
    [`${name}, props`, props?.mesh],
  ];
  return bodies.flatMap(([title, mesh]) => (mesh ? [{ name: title, mesh, places }] : []));
}
