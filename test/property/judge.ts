import type { BodyMaker } from "../../src/build/bodies";
import { crumbVolume } from "../../src/build/engine";
import { liesInside } from "../../src/build/insideHead";
import { refuseOversized } from "../../src/build/oversized";
import { settleResting } from "../../src/build/settleResting";
import { checkOnePiece } from "../../src/checks/onePiece";
import { runDesign } from "../../src/design/run";
import { writeStl } from "../../src/export/stl";
import { auditStl } from "../../src/export/stlAudit";
import type { TriangleMesh } from "../../src/geometry/mesh";
import { BodyError } from "../../src/geometry/solid/body";
import type { SolidBuilder } from "../../src/geometry/solid/solidBuilder";
import type { GrownHead } from "../../src/head/grownHead";
import { type Message, MessageError } from "../../src/message";
import { type DesignSpec, headpieceOf, LibraryError } from "./designSpec";

export interface Bench {
  readonly builder: SolidBuilder;
  readonly maker: BodyMaker;
  readonly head: GrownHead;
  readonly headMesh: TriangleMesh;
}

/** What came of a design: a good piece, or an error that its maker can act on; `fault`: what must never be. */
export type Verdict =
  | { readonly kind: "good"; readonly volume: number }
  | { readonly kind: "error"; readonly id: string }
  | { readonly kind: "fault"; readonly what: string };

/** The whole way of a design, from the language to the bytes of its STL. */
export async function judge(spec: DesignSpec, bench: Bench): Promise<Verdict> {
  try {
    const result = runDesign(headpieceOf(spec), { head: bench.head.toData(), values: {} });
    refuseOversized(result.parts);
    const told: Message[] = [];
    const { parts } = settleResting(result, bench.head, told);
    const { bodies, cuts } = bench.maker.bodiesOf(parts);
    const bodyParts = parts.filter(({ kind }) => kind !== "cut");
    const found = await bench.builder.build({
      bodies,
      cuts,
      head: { key: "head", mesh: bench.headMesh },
      crumbVolume,
    });
    const messages = [...told, ...checkOnePiece(found, bodyParts, (part) => liesInside(part, bench.head))];
    const errors = messages.filter(({ severity }) => severity === "error");
    const faulty = messages.map(faultOf).find((one) => one !== undefined);
    if (faulty) return { kind: "fault", what: faulty };
    if (found.mesh.triangles.length === 0) {
      return errors.length > 0
        ? { kind: "error", id: errors[0].id }
        : fault("nothing is left, and nothing is said");
    }
    const audit = auditStl(writeStl(found.mesh));
    if (!audit.closed || audit.insideOut > 0) return fault(`the STL is not closed: ${JSON.stringify(audit)}`);
    const stated = found.pieces.reduce((sum, { volume }) => sum + volume, 0);
    const voids = found.voids.reduce((sum, { volume }) => sum + volume, 0);
    if (Math.abs(audit.volumeMm3 / (stated - voids) - 1) > 1e-4) {
      return fault(`the STL holds ${audit.volumeMm3} mm³, the solid ${stated - voids}`);
    }
    if (errors.length > 0) return { kind: "error", id: errors[0].id };
    if (audit.pieces !== 1) return fault(`${audit.pieces} pieces, and no error`);
    return { kind: "good", volume: audit.volumeMm3 };
  } catch (error) {
    if (error instanceof MessageError) {
      if (!error.messages.some(({ severity }) => severity === "error"))
        return fault("an error without a message");
      const faulty = error.messages.map(faultOf).find((one) => one !== undefined);
      return faulty ? fault(faulty) : { kind: "error", id: error.messages[0].id };
    }
    if (error instanceof BodyError) {
      // Only its own cuts may leave a body empty; no mesh of the language's own is open.
      return error.message.includes("has no volume")
        ? { kind: "error", id: "open-body" }
        : fault(error.message);
    }
    if (error instanceof LibraryError) return { kind: "error", id: "design-threw" };
    return fault(error instanceof Error ? (error.stack ?? error.message) : String(error));
  }
}

const fault = (what: string): Verdict => ({ kind: "fault", what });

/** What is wrong with a message itself. */
function faultOf({ id, text, suggestion, severity }: Message): string | undefined {
  const whole = `${text} ${suggestion ?? ""}`;
  if (!/^[a-z0-9]+(-[a-z0-9]+)*$/.test(id)) return `a message's id is "${id}"`;
  if (text.trim() === "" || /undefined|\[object|function \(/.test(whole)) return `a message reads "${whole}"`;
  if (severity === "error" && !suggestion) return `an error without a hint: "${text}"`;
  return undefined;
}

/** The smallest design that still fails: parts are left out, then options, then points, as long as it does. */
export async function smallest(
  spec: DesignSpec,
  fails: (spec: DesignSpec) => Promise<boolean>,
): Promise<DesignSpec> {
  let best = spec;
  for (let again = true; again; ) {
    again = false;
    for (const candidate of smaller(best)) {
      if (!(await fails(candidate))) continue;
      best = candidate;
      again = true;
      break;
    }
  }
  return best;
}

function* smaller({ parts }: DesignSpec): Generator<DesignSpec> {
  for (let i = 0; i < parts.length; i++) yield { parts: parts.toSpliced(i, 1) };
  for (const [i, part] of parts.entries()) {
    const record = part as unknown as Record<string, unknown>;
    for (const key of [
      "copies",
      "rests",
      "tip",
      "into",
      "section",
      "twist",
      "facing",
      "hollow",
      "fromFirst",
    ]) {
      if (record[key] === undefined) continue;
      const { [key]: _, ...less } = record;
      yield { parts: parts.with(i, less as never) };
    }
    if (part.kind !== "tube" || !("points" in part.path)) continue;
    const { path } = part;
    for (let k = 0; k < path.points.length; k++) {
      yield { parts: parts.with(i, { ...part, path: { ...path, points: path.points.toSpliced(k, 1) } }) };
    }
    if (typeof part.radius !== "number") yield { parts: parts.with(i, { ...part, radius: part.radius[0] }) };
  }
}
