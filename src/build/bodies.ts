import { createHash } from "node:crypto";
import type { CutPart, Part, SolidPart, TubePart } from "../design/part";
import type { BodyPiece } from "../geometry/bodyPiece";
import { hollowPieces } from "../geometry/hollow";
import type { TriangleMesh } from "../geometry/mesh";
import { overlapPieces } from "../geometry/overlapPieces";
import type { Body } from "../geometry/solid/body";
import type { TubeShape } from "../geometry/tubeShape";
import { MessageError } from "../message";

/** The parts of a design as the solid kernel takes them. */
export interface Bodies {
  /** One for each part that is not a cut. */
  readonly bodies: readonly Body[];
  /** The part of each body, by its index among all parts. */
  readonly partOfBody: readonly number[];
  /** What is taken from the whole. */
  readonly cuts: readonly BodyPiece[];
  /** Of each part, cuts too, its own surface. */
  readonly swept: readonly Swept[];
}

/** A part's own surface, before anything is united: what a first picture shows. */
export interface Swept {
  /** Stands for the shape of the part, whatever its name and line. */
  readonly key: string;
  readonly add: readonly BodyPiece[];
  readonly remove: readonly BodyPiece[];
}

/** Sweeps parts into meshes, and remembers those of the last design, so that only what changed is swept again. */
export class BodyMaker {
  readonly #tolerance: number;
  #known = new Map<string, Swept>();

  /** @param tolerance greatest deviation of a mesh from the true surface, mm */
  constructor(tolerance: number) {
    this.#tolerance = tolerance;
  }

  /** Throws a `MessageError` at the line of a part that cannot be swept. */
  bodiesOf(parts: readonly Part[]): Bodies {
    const used = new Map<string, Swept>();
    const swept = parts.map((part) => {
      const key = keyOf(part, this.#tolerance);
      const made = used.get(key) ?? this.#known.get(key) ?? { key, ...sweepPart(part, this.#tolerance) };
      used.set(key, made);
      return made;
    });
    this.#known = used;

    const cutsOf = new Map<string, Swept[]>();
    const cuts: BodyPiece[] = [];
    for (const [index, part] of parts.entries()) {
      if (part.kind !== "cut") continue;
      if (!part.from) cuts.push(...swept[index].add);
      for (const name of part.from ?? []) cutsOf.set(name, [...(cutsOf.get(name) ?? []), swept[index]]);
    }
    const bodies: Body[] = [];
    const partOfBody: number[] = [];
    for (const [index, part] of parts.entries()) {
      if (part.kind === "cut") continue;
      const { key, add, remove } = swept[index];
      const taken = cutsOf.get(part.name) ?? [];
      bodies.push({
        key: [part.name, key, ...taken.map((cut) => cut.key)].join("\n"),
        name: part.name,
        add,
        remove: [...remove, ...taken.flatMap((cut) => cut.add)],
      });
      partOfBody.push(index);
    }
    return { bodies, partOfBody, cuts, swept };
  }
}

/** Stands for the shape of a part, whatever its name and line. */
function keyOf(part: Part, tolerance: number): string {
  const hash = createHash("sha1").update(String(tolerance));
  const body = part.kind === "cut" ? part.body : part;
  if (body.kind === "tube") return hash.update(JSON.stringify(body.shape)).digest("base64");
  const { positions, triangles } = body.mesh;
  return hash.update(bytesOf(positions)).update(bytesOf(triangles)).digest("base64");
}

const bytesOf = (array: Float32Array | Uint32Array): Uint8Array =>
  new Uint8Array(array.buffer, array.byteOffset, array.byteLength);

function sweepPart(part: TubePart | SolidPart | CutPart, tolerance: number): Omit<Swept, "key"> {
  const body = part.kind === "cut" ? part.body : part;
  if (body.kind === "solid") return { add: [meshPiece(body.mesh)], remove: [] };
  try {
    return sweepShape(body.shape, tolerance);
  } catch (error) {
    if (!(error instanceof MessageError)) throw error;
    throw new MessageError(
      error.messages.map((message) => ({
        ...message,
        text: `"${part.name}": ${message.text}`,
        part: part.name,
        ...part.origin,
      })),
    );
  }
}

function sweepShape(shape: TubeShape, tolerance: number): Omit<Swept, "key"> {
  return shape.hollow ? hollowPieces(shape, tolerance) : { add: overlapPieces(shape, tolerance), remove: [] };
}

const meshPiece = (mesh: TriangleMesh): BodyPiece => ({ kind: "mesh", mesh });
