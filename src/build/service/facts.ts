import type { PlateFit } from "../../checks/plateFit";
import type { Printer } from "../../checks/printer";
import type { Part } from "../../design/part";
import { tubeVolumeAndLength } from "../../geometry/measure";
import type { TubeShape } from "../../geometry/tubeShape";
import { headMatrix, restingOn } from "../../print/placedPiece";
import type { Swept } from "../bodies";
import type { Designed } from "../engine";
import type { DesignFacts, PartSummary, PlateFacts } from "./protocol";

/** What is said of parts; lengths of shapes that did not change are kept. */
export class PartFactsMaker {
  #lengths = new Map<string, number>();

  summariesOf(parts: readonly Part[], swept: readonly Swept[]): PartSummary[] {
    const lengths = new Map<string, number>();
    const summaries = parts.map((part, i): PartSummary => {
      const { name, kind, origin } = part;
      const shape = shapeOf(part);
      if (!shape) return { name, kind, ...(origin && { origin }) };
      const { key } = swept[i];
      const length = this.#lengths.get(key) ?? tubeVolumeAndLength(shape).length;
      lengths.set(key, length);
      const radius = [Math.min(...shape.radius.radii), Math.max(...shape.radius.radii)] as const;
      return { name, kind, length, radius, ...(origin && { origin }) };
    });
    this.#lengths = lengths;
    return summaries;
  }
}

function shapeOf(part: Part): TubeShape | undefined {
  if (part.kind === "tube") return part.shape;
  return part.kind === "cut" && part.body.kind === "tube" ? part.body.shape : undefined;
}

/** What is said of a design that has run. */
export function designFacts({ header, parties, head, result }: Designed, parts: PartSummary[]): DesignFacts {
  return {
    header,
    values: result.values,
    wearer: parties.wearer.name,
    ease: { offset: head.easeOffset, hair: parties.wearer.hairThickness },
    printer: parties.printer.name,
    material: parties.material.name,
    print: parties.print.name,
    parts,
  };
}

/** How a piece lies in its printer's build volume, to be read and to be drawn. */
export function plateFacts(positions: Float32Array, printer: Printer, fit: PlateFit): PlateFacts {
  const { rotation } = fit;
  return {
    printer: printer.name,
    outline: printer.plate,
    height: printer.height,
    fits: fit.fits,
    summary: summaryOf(fit),
    toHead: headMatrix({ rotation, ...restingOn(printer.plate, positions, rotation) }),
  };
}

const tooLong = { width: "wide", depth: "deep", diameter: "large across", height: "high" } as const;

function summaryOf({ fits, tilt, turn, excess, tightest }: PlateFit): string {
  if (!fits) return `${excess.toFixed(1)} mm too ${tooLong[tightest]}`;
  const turns = [
    ...(tilt >= 0.05 ? [`tilted ${tilt.toFixed(1)}°`] : []),
    ...(Math.abs(turn) >= 0.05 ? [`turned ${Math.abs(turn).toFixed(1)}°`] : []),
  ];
  return turns.length === 0 ? "as designed" : turns.join(", ");
}
