import { readDataText } from "../../build/dataFile";
import type { PrintFile } from "../../build/printFile";
import type { Material } from "../../checks/material";
import type { Printer } from "../../checks/printer";
import { formatHatSize, hatSizeOfGirth } from "../../head/hatSize";
import type { MeasureField } from "../../head/measurements";
import type { Wearer } from "../../head/wearer";
import { toleranceOf } from "../../head/wearerMeasures";
import type { Message } from "../../message";
import { defaultPrintSettings, printSettingDeclarations, printSettingNames } from "../../printSettings";
import type { PartyKind } from "../designState";
import type { Localiser } from "../localiser";

/** What is said of a file of a wearer, printer, material or print settings in lists. */
export interface PartySummary {
  /** The name that the file gives. Absent where it cannot be read. */
  readonly name?: string;
  /** The figures it is told by, for example `556 mm · hat 56`. */
  readonly detail: string;
  readonly facts: readonly (readonly [label: string, value: string])[];
  /** The first thing that makes the file useless. */
  readonly error?: Message;
  readonly warnings: readonly Message[];
}

/** Reads the text of such a file as far as a list needs it. */
export function summaryOfParty(kind: PartyKind, text: string, file: string, l10n: Localiser): PartySummary {
  const { value, messages } = readDataText(text.replace(/^\uFEFF/, ""), file, kind);
  const error = messages.find(({ severity }) => severity === "error");
  const warnings = messages.filter(({ severity }) => severity === "warning");
  if (!value || error) {
    const detail = error?.text ?? l10n.t("cannot be read");
    return { detail, facts: [], warnings, error: error ?? unreadable(file, detail) };
  }
  const { detail, facts } = described(kind, value, l10n);
  return { name: value.name, detail, facts, warnings };
}

const unreadable = (file: string, text: string): Message => ({
  id: "file-unreadable",
  severity: "error",
  text,
  file,
  line: 1,
  column: 1,
});

function described(
  kind: PartyKind,
  value: Wearer | Printer | Material | PrintFile,
  l10n: Localiser,
): Pick<PartySummary, "detail" | "facts"> {
  if (kind === "wearer") return describeWearer(value as Wearer, l10n);
  if (kind === "printer") return describePrinter(value as Printer, l10n);
  if (kind === "material") return describeMaterial(value as Material, l10n);
  return describePrint(value as PrintFile, l10n);
}

function describeWearer(
  { measurements, easeOffset, hairThickness, estimated, measuringErrors, notes }: Wearer,
  l10n: Localiser,
) {
  const { girth, length, breadth, crownHeight } = measurements;
  const metric = formatHatSize(hatSizeOfGirth(girth, "metric"));
  const us = formatHatSize(hatSizeOfGirth(girth, "US"));
  const isEstimated = (field: string) => estimated.some((estimate) => estimate.field === field);
  const measure = (field: MeasureField, mm: number) => {
    if (isEstimated(field)) return l10n.t("{0} mm, estimated", tenths(mm));
    const error = measuringErrors?.[field];
    return error
      ? l10n.t("{0} mm ± {1} mm as measured", tenths(mm), tenths(toleranceOf(error)))
      : l10n.t("{0} mm", tenths(mm));
  };
  const facts: [string, string][] = [
    [l10n.t("Girth"), measure("girth", girth)],
    [l10n.t("Hat size"), `${metric}, ${us}`],
    [l10n.t("Length"), measure("length", length)],
    [l10n.t("Breadth"), measure("breadth", breadth)],
    [l10n.t("Crown height"), measure("crownHeight", crownHeight)],
    [l10n.t("Hair"), l10n.t("{0} mm", tenths(hairThickness))],
    [l10n.t("Girth ease"), l10n.t("{0} mm", tenths(2 * Math.PI * easeOffset))],
  ];
  if (notes) facts.push([l10n.t("Notes"), notes]);
  return { detail: l10n.t("{0} mm · hat {1}", tenths(girth), metric), facts };
}

function describePrinter({ plate, height, nozzle, filamentDiameter }: Printer, l10n: Localiser) {
  const size =
    plate.shape === "round"
      ? l10n.t("round {0} × {1} mm", plate.diameter, height)
      : l10n.t("{0} × {1} × {2} mm", plate.width, plate.depth, height);
  const facts: [string, string][] = [
    [l10n.t("Build volume"), size],
    [l10n.t("Nozzle"), l10n.t("{0} mm", nozzle)],
    [l10n.t("Filament"), l10n.t("{0} mm", filamentDiameter)],
  ];
  return { detail: size, facts };
}

function describeMaterial(material: Material, l10n: Localiser) {
  const { density, softening, strength, modulus, spool, sources } = material;
  const [least, most] = softening;
  const softens = least === most ? l10n.t("{0} °C", least) : l10n.t("{0} to {1} °C", least, most);
  const facts: [string, string][] = [
    [l10n.t("Density"), l10n.t("{0} g/cm³", density)],
    [l10n.t("Softens"), softens],
    [l10n.t("Strength"), l10n.t("{0} MPa", strength)],
    [l10n.t("Modulus"), l10n.t("{0} GPa", modulus)],
    [l10n.t("Spool"), l10n.t("{0} g", spool)],
  ];
  if (sources) facts.push([l10n.t("Sources"), sources]);
  return { detail: l10n.t("{0} g/cm³ · softens at {1} °C", density, least), facts };
}

function describePrint({ settings, orientation }: PrintFile, l10n: Localiser) {
  const { layerHeight, shells, infill } = { ...defaultPrintSettings, ...settings };
  const facts: [string, string][] = printSettingNames.flatMap((name): [string, string][] => {
    const value = settings?.[name];
    if (value === undefined) return [];
    const { unit } = printSettingDeclarations[name];
    return [[name, unit ? `${value} ${unit}` : String(value)]];
  });
  if (orientation !== undefined) {
    const words =
      typeof orientation === "string"
        ? orientation
        : l10n.t("tilted {0}°, turned {1}°", orientation.tilt, orientation.turn);
    facts.push([l10n.t("Orientation"), words]);
  }
  return { detail: l10n.t("{0} mm layers · {1} shells · {2} % infill", layerHeight, shells, infill), facts };
}

const tenths = (value: number): number => Number(value.toFixed(1));
