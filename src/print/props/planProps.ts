import type { Plate } from "../../checks/printer";
import type { Part, Prop } from "../../design/part";
import { meshVolume } from "../../geometry/measure";
import type { TriangleMesh } from "../../geometry/mesh";
import type { Kernel } from "../../geometry/solid/kernel";
import { uniteMeshes } from "../../geometry/solid/unite";
import type { PrintSettings } from "../../printSettings";
import type { PlacedPiece } from "../placedPiece";
import type { PlanFinding } from "../planFinding";
import { supportOfRuns } from "../support/findSupport";
import type { Support } from "../support/support";
import { type BuiltProps, PropBuilder } from "./buildProps";
import { heldByProps } from "./heldByProps";
import { propFindings } from "./propFindings";
import { defaultPropLimits, type PropLimits } from "./propLimits";
import { proposeProps } from "./proposeProps";
import { type PropRequest, requestOf } from "./propRequest";
import type { PropFoot } from "./strut";
import { strutMesh } from "./strutMesh";

export interface PropOptions {
  /** Whether props are proposed for columns of support that may fail; else only those of the design are built. */
  readonly propose?: boolean;
  /** Where given, feet stay on it. */
  readonly plate?: Plate;
  readonly limits?: PropLimits;
}

/** The props of a print, and what of the support they leave. Plate's frame. */
export interface PropPlan extends BuiltProps {
  /** All of them as one closed mesh, which ends in the piece by its necks alone; absent where there is none. */
  readonly mesh?: TriangleMesh;
  /** mm³ */
  readonly volume: number;
  /** What stands on the plate, and what is broken off the piece: necks, and feet that stand on it, mm². */
  readonly footArea: number;
  readonly neckArea: number;
  readonly landingArea: number;
  /** Props by the part that they hold up, the most necks first. */
  readonly byPart: readonly { readonly part: number; readonly necks: number; readonly proposed: number }[];
  /** Supports that are still needed. */
  readonly support: Support;
  /** Columns that might have failed, before, and that still may. */
  readonly atRisk: { readonly before: number; readonly after: number };
  /** Whether props hold up the surface at a place, for `findSupport`. */
  readonly isHeld: (x: number, y: number, z: number) => boolean;
  readonly findings: readonly PlanFinding[];
}

/** So often what is left is looked at again: a support of which a part is taken may be thin in its turn. */
const mostRounds = 4;

/**
 * The props that the design asks for and, where wanted, those that hold what columns of support at risk held: built,
 * joined to trees, braced, united; and the support that is left.
 * @throws RangeError when the piece is empty or a place is not finite.
 */
export function planProps(
  kernel: Kernel,
  placed: PlacedPiece,
  support: Support,
  props: readonly Prop[],
  parts: readonly Part[],
  settings: Pick<PrintSettings, "supportGap">,
  options: PropOptions = {},
): PropPlan {
  const { propose = false, plate, limits = defaultPropLimits } = options;
  const before = support.columns.filter(({ risk }) => risk).length;
  const requests: PropRequest[] = props.map((prop) => requestOf(prop, placed));
  if (requests.length === 0 && (!propose || before === 0)) return nothingPropped(support, before);
  const builder = new PropBuilder(placed.mesh, plate, limits);
  let isHeld = heldByProps(builder.necks(requests), limits);
  let left = without(support, isHeld, settings);
  for (let round = 0; propose && round < mostRounds; round++) {
    const tried = requests.filter(({ isProposed }) => isProposed);
    const proposed = proposeProps(left, settings.supportGap, limits, (x, y, z) =>
      tried.some(({ at }) => Math.hypot(at[0] - x, at[1] - y, at[2] - z) < sameNeck),
    );
    if (proposed.length === 0) break;
    for (const request of proposed) {
      requests.push({ ...request, name: `proposed ${requests.length + 1 - props.length}` });
    }
    isHeld = heldByProps(builder.necks(requests), limits);
    left = without(support, isHeld, settings);
  }
  const built = builder.build(requests);
  const proposedNames = new Set(requests.filter(({ isProposed }) => isProposed).map(({ name }) => name));
  const mesh =
    built.struts.length > 0
      ? uniteMeshes(
          kernel,
          built.struts.map(({ rings }) => strutMesh(rings)),
          "the props",
        ).mesh
      : undefined;
  const plan: Omit<PropPlan, "findings"> = {
    ...built,
    ...(mesh && { mesh: { positions: mesh.positions, triangles: mesh.triangles } }),
    volume: mesh ? meshVolume(mesh) : 0,
    footArea: areaOf(built.feet.filter(({ z }) => z === 0)),
    landingArea: areaOf(built.feet.filter(({ z }) => z > 0)),
    neckArea: built.necks.reduce((sum, { diameter }) => sum + (Math.PI / 4) * diameter * diameter, 0),
    byPart: necksByPart(built, proposedNames),
    support: left,
    atRisk: { before, after: left.columns.filter(({ risk }) => risk).length },
    isHeld,
  };
  return { ...plan, findings: propFindings(plan, placed, parts, proposedNames) };
}

const areaOf = (feet: readonly PropFoot[]): number =>
  feet.reduce((sum, { radius }) => sum + Math.PI * radius * radius, 0);

/** Two necks nearer than this are one, mm. */
const sameNeck = 0.3;

/** The support where what props hold is not held twice. */
function without(
  support: Support,
  isHeld: (x: number, y: number, z: number) => boolean,
  settings: Pick<PrintSettings, "supportGap">,
): Support {
  const { runs } = support;
  const x = (i: number) => runs.origin[0] + (runs.column[i] + 0.5) * runs.cell;
  const y = (i: number) => runs.origin[1] + (runs.row[i] + 0.5) * runs.cell;
  return supportOfRuns(support, (i) => !isHeld(x(i), y(i), runs.top[i] + settings.supportGap), settings);
}

function necksByPart({ necks }: BuiltProps, proposed: ReadonlySet<string>): PropPlan["byPart"] {
  const byPart = new Map<number, { necks: number; proposed: number }>();
  for (const { part, name } of necks) {
    const sum = byPart.get(part) ?? { necks: 0, proposed: 0 };
    sum.necks++;
    if (proposed.has(name)) sum.proposed++;
    byPart.set(part, sum);
  }
  return [...byPart]
    .map(([part, sum]) => ({ part, ...sum }))
    .sort((a, b) => b.necks - a.necks || a.part - b.part);
}

const nothingPropped = (support: Support, atRisk: number): PropPlan => ({
  struts: [],
  necks: [],
  feet: [],
  unproppable: [],
  volume: 0,
  footArea: 0,
  neckArea: 0,
  landingArea: 0,
  byPart: [],
  support,
  atRisk: { before: atRisk, after: atRisk },
  isHeld: () => false,
  findings: [],
});
