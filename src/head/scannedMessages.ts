import type { Message } from "../message";
import type { ScanOpenings } from "./scanOpenings";
import type { ScanComparison, ScannedHead, ScanRequest } from "./scanRequest";
import { sideOf } from "./scanSides";
import { unitNamed } from "./scanUnits";

/** A gap at the girth that is told, degrees; narrower ones a tape reads over as it would over the skin. */
const toldGap = 12;
/** More of the form above the girth than this is told where the scan lacks it. */
const toldFilled = 0.02;
/** A scan that lies farther from its form than this is rough or folded, mm. */
const rough = 1.5;
/** A scan's size in a unit that is stated and differs by more than this share from the measure that scaled it. */
const toldUnit = 0.04;

const names: Readonly<Record<ScanComparison["field"], string>> = {
  girth: "girth",
  length: "length",
  breadth: "breadth",
  crownHeight: "crown height",
};

const inMm = (value: number): string => `${value.toFixed(1)} mm`;
const percent = (share: number): string => `${share >= 0 ? "+" : "−"}${Math.abs(100 * share).toFixed(1)} %`;

/** What is said of a scan that became a wearer's head. Each message names the field of the wearer's file. */
export function scannedMessages(
  scanned: ScannedHead,
  request: ScanRequest,
  openings: ScanOpenings,
  shapeDoubts: readonly string[],
  findings: readonly Message[],
): Message[] {
  return [
    placedNote(scanned, request),
    ...scanned.comparisons.filter(({ isDoubtful }) => isDoubtful).map((one) => doubtfulScale(scanned, one)),
    ...unitDoubts(scanned, request),
    ...openingDoubts(scanned, openings),
    ...(scanned.within > rough ? [roughScan(scanned)] : []),
    ...shapeDoubts.map((text) => doubt(text)),
    // What no head has is told, and does not keep the scan from being worn on.
    ...findings.map(({ text }) => doubt(`as the scan has it: ${text}`)),
  ];
}

/** Each measure that results, and what was given for it, in one sentence. */
export const comparisonWords = ({ field, onScan, given, standardError, isScale }: ScanComparison): string => {
  const measure = `${names[field]} ${inMm(onScan)}`;
  if (given === undefined) return `${measure} (not measured)`;
  if (isScale) return `${measure} (as measured: the scan is scaled by it)`;
  const off = percent(onScan / given - 1);
  const error = standardError === undefined ? "" : `, measuring error ± ${inMm(2 * standardError)}`;
  return `${measure} (measured ${inMm(given)}: ${off}${error})`;
};

/** The scale in words. */
export const scaleWords = ({
  scale,
  unit,
  scaledBy,
}: Pick<ScannedHead, "scale" | "unit" | "scaledBy">): string => {
  const factor = `${Number(scale.toPrecision(6))} mm in one of its units`;
  const looks =
    unit === undefined ? "which has a head's size in no known unit" : `which looks to be in ${unit}`;
  return scaledBy === undefined
    ? `${factor}: it keeps its own size, in ${unit}`
    : `${factor}, ${looks}: scaled so that its ${scaledBy} is the measured one`;
};

function placedNote(scanned: ScannedHead, { file, points }: ScanRequest): Message {
  const how = points ? "placed by its three points and levelled by its fit" : "placed by its fit";
  const measures = scanned.comparisons.map(comparisonWords).join(", ");
  return {
    id: "scan-placed",
    severity: "note",
    field: "scan.file",
    text: `the head is the scan "${file}", ${how}, ${scaleWords(scanned)}; ${measures}; 95 % of it above the girth lies within ${scanned.within.toFixed(2)} mm of the form`,
  };
}

function doubtfulScale({ scaledBy }: ScannedHead, one: ScanComparison): Message {
  const { field, onScan, given = 0, standardError = 0 } = one;
  const basis = scaledBy ? `scaled by its ${scaledBy}` : "at its own size";
  return {
    id: "scan-scale-doubtful",
    severity: "warning",
    field,
    text: `the scale of the scan is doubtful: ${basis}, its ${names[field]} is ${inMm(onScan)} where ${inMm(given)} was measured, ${percent(onScan / given - 1)}, more than the measuring error of ± ${inMm(2 * standardError)}`,
    suggestion: `measure ${scaledBy ? `${scaledBy} and ${names[field]}` : `the ${names[field]}`} again; hair or a cap on the scan counts as head; it may be another's head`,
  };
}

function unitDoubts({ scale, scaledBy }: ScannedHead, { unit }: ScanRequest): Message[] {
  if (unit === undefined || scaledBy === undefined) return [];
  const { mm, name } = unitNamed(unit);
  const off = mm / scale - 1;
  if (Math.abs(off) <= toldUnit) return [];
  return [
    {
      id: "scan-scale-doubtful",
      severity: "warning",
      field: "scan.unit",
      text: `the scale of the scan is doubtful: in ${name} it would be ${percent(off)} in size against the measured ${scaledBy}, by which it is scaled`,
      suggestion: `see whether the unit is right, and measure the ${scaledBy} again`,
    },
  ];
}

function openingDoubts(
  { filled }: ScannedHead,
  { gap, towards, girthError, isCrownOpen }: ScanOpenings,
): Message[] {
  const found: Message[] = [];
  if (gap > toldGap) {
    found.push(
      doubt(
        `the scan is open over ${gap.toFixed(0)}° where the girth is measured, ${sideOf(towards)}: its girth is read straight over the gap, up to ${inMm(girthError)} too small`,
        "Scan the head closed all round, or measure the girth and scale the scan by it.",
      ),
    );
  }
  if (isCrownOpen) {
    found.push(
      doubt(
        "the scan is open at the crown: its height is not read off it but estimated, or as it was given, and the mean head closes it",
        "Scan the head with its crown, or measure the crown height.",
      ),
    );
  }
  if (filled > toldFilled) {
    found.push(
      doubt(
        `the scan lacks ${(100 * filled).toFixed(0)} % of the head above the girth: there the form is the mean head of its measures, brought to the rim`,
        "What is to fit there is a guess: scan the head whole.",
      ),
    );
  }
  return found;
}

const roughScan = ({ within }: ScannedHead): Message =>
  doubt(
    `the scan is rough or folded: 95 % of it above the girth lies within ${within.toFixed(1)} mm of the form, where ${rough} mm is usual at most`,
    "Look at the scan: loose hair and noise are evened out.",
  );

function doubt(
  text: string,
  suggestion = "Look at the scan and at the head that was made of it.",
  id = "scan-doubtful",
): Message {
  return { id, severity: "warning", field: "scan.file", text, suggestion };
}
