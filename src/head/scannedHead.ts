import type { TriangleMesh } from "../geometry/mesh";
import { TriangleTree } from "../geometry/triangleTree";
import { hashOf } from "../geometry/weldVertices";
import type { Message } from "../message";
import { completeMeasurements } from "./completeMeasurements";
import { buildHeadForm } from "./headForm";
import { errorOf, knownHeadOf } from "./knownHead";
import type { MeasureField, Measurements } from "./measurements";
import { placeHeadScan, type ScanPlacing } from "./scan";
import { compareMeasures, type GivenMeasures } from "./scanComparison";
import type { ScanMeasures } from "./scanMeasuring";
import { scannedForm } from "./scannedForm";
import { scannedMessages } from "./scannedMessages";
import { scanOpenings } from "./scanOpenings";
import { girthIsOpen, notHuman } from "./scanRefusal";
import { SCALING_MEASURES, SCANNED_MEASURES, type ScannedHead, type ScanRequest } from "./scanRequest";
import type { Wearer } from "./wearer";

/** A girth with a greater standard error was not taken of this head at all: it is a mean person's, mm. */
const mostGirthError = 8;
/** A wider gap at the girth leaves nothing to measure, degrees. */
const mostGap = 40;
/** Girths that any human has, mm (as for given measures). */
const humanGirth: readonly [number, number] = [400, 720];

/** A wearer whose head is a scan. */
export interface ScannedWearer {
  /** With `scanned`, and the scan's girth, length, breadth and crown height among its measurements. */
  readonly wearer: Wearer;
  /** How the scan was placed and scaled, and what is doubtful; none is an error. */
  readonly messages: readonly Message[];
}

/**
 * Places the scan that a wearer names, scales it, and makes it the wearer's head. The scan's measures take the place of
 * those that were given; the others stay as they were given, or are estimated anew.
 * @param mesh as it was read, in any unit and pose, dirty, open, with a body
 * @throws MessageError when it holds no head, when its points cannot be a head's, when it is open where the girth is
 * measured, or when it has no plausible size and nothing to be scaled by; the message names the field of the wearer
 */
export function wearerOfScan(mesh: TriangleMesh, wearer: Wearer, request: ScanRequest): ScannedWearer {
  const given = givenOf(wearer);
  const form = buildHeadForm(wearer.measurements);
  const placed = placeHeadScan(mesh, form, placingOf(request, given));
  const tree = new TriangleTree(placed.mesh);
  const openings = scanOpenings(tree, form, placed.scale / placed.fittedScale, placed.measured);
  if (openings.gap > mostGap) throw girthIsOpen(openings);
  const { girth } = placed.measured;
  if (!(girth >= humanGirth[0] && girth <= humanGirth[1])) throw notHuman(placed, request);
  const { measurements, estimated, findings } = measurementsOf(
    wearer,
    given,
    placed.measured,
    openings.isCrownOpen,
  );
  const measured: ScanMeasures = { ...placed.measured, crownHeight: measurements.crownHeight };
  const { surface, within, filled } = scannedForm(placed.mesh, measured, measurements, tree);
  const scanned: ScannedHead = {
    key: keyOf(surface.radii),
    surface,
    measured,
    scale: placed.scale,
    ...(placed.unit !== "no known unit" && { unit: placed.unit }),
    ...(placed.scaledBy && { scaledBy: placed.scaledBy }),
    matrix: placed.matrix,
    comparisons: compareMeasures(measured, given, placed.scaledBy, openings.girthError),
    within,
    filled,
  };
  const { measuringErrors } = wearer;
  const errorsKept = Object.entries(measuringErrors ?? {}).filter(([field]) => !isScanned(field));
  const { measuringErrors: _, ...rest } = wearer;
  return {
    wearer: {
      ...rest,
      measurements,
      estimated,
      ...(errorsKept.length > 0 && { measuringErrors: Object.fromEntries(errorsKept) }),
      scanned,
    },
    messages: scannedMessages(scanned, request, openings, placed.shapeDoubts, findings),
  };
}

const isScanned = (field: string): boolean => (SCANNED_MEASURES as readonly string[]).includes(field);

/** What was measured of a wearer, with its standard error. */
function givenOf(wearer: Wearer): GivenMeasures {
  const known = knownHeadOf(wearer);
  const entries = Object.entries(wearer.measurements).flatMap(([name, mm]) => {
    const field = name as MeasureField;
    const standardError = errorOf(known, field);
    const isTaken = standardError !== undefined && !(field === "girth" && standardError > mostGirthError);
    return isTaken && typeof mm === "number" ? [[field, { mm, standardError }] as const] : [];
  });
  return Object.fromEntries(entries);
}

function placingOf({ points, unit, scaledBy }: ScanRequest, given: GivenMeasures): ScanPlacing {
  const first = SCALING_MEASURES.find((measure) => given[measure] !== undefined);
  const measure = scaledBy ?? (unit === undefined ? first : undefined);
  const one = measure && given[measure];
  return {
    ...(points && { points }),
    ...(unit && { unit }),
    ...(measure && one && { scaledBy: { measure, mm: one.mm } }),
    ...(first === undefined && { isMeanForm: true }),
  };
}

/** The wearer's measurements with those of the scan; an open crown's height as it was given, or else estimated. */
function measurementsOf(
  { measurements: before }: Wearer,
  given: GivenMeasures,
  { girth, length, breadth, crownHeight }: ScanMeasures,
  isCrownOpen: boolean,
): ReturnType<typeof completeMeasurements> {
  const own = Object.fromEntries(
    Object.entries(given)
      .filter(([field]) => field === "crownHeight" || !isScanned(field))
      .map(([field, { mm }]) => [field, mm]),
  );
  const hair: Pick<Measurements, "hairThickness"> =
    before.hairThickness === undefined ? {} : { hairThickness: before.hairThickness };
  return completeMeasurements({
    ...own,
    ...hair,
    girth,
    length,
    breadth,
    ...(!isCrownOpen && { crownHeight }),
  });
}

/** Two hashes of all radii: a surface that differs anywhere has another. */
function keyOf(radii: Float64Array): string {
  const words = new Uint32Array(radii.buffer, radii.byteOffset, 2 * radii.length);
  let [a, b] = [1, 2];
  for (let i = 0; i < words.length; i++) {
    a = hashOf(words[i], a, i);
    b = hashOf(b, i, words[i]);
  }
  return `${a.toString(36)}-${b.toString(36)}`;
}
