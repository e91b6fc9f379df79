import { type PrintSettingName, printSettingDeclarations } from "../../printSettings";
import type { Report } from "../report";
import { inWords } from "../reportSentences";
import { type Figure, figureChange, withUnit } from "./figureChange";
import { type ReportChange, wordChange } from "./reportChange";

/** What went into the piece: material, print settings, the head's measures, ease and hair, parameters, limits. */
export function inputChanges(before: Report, after: Report): ReportChange[] {
  return [
    ...materialChanges(before, after),
    ...figuresOf([...settingFigures(before, after), ...headFigures(before, after)], before, after),
    ...parameterChanges(before, after),
    ...limitChanges(before, after),
  ];
}

const figuresOf = (figures: readonly Figure[], before: Report, after: Report): ReportChange[] =>
  figures.flatMap((figure) => figureChange(figure, before, after) ?? []);

function materialChanges(before: Report, after: Report): ReportChange[] {
  const [was, is] = [before.material, after.material];
  if (!was || !is) return [];
  if (was.name !== is.name) {
    const sentence = `material ${is.name} instead of ${was.name}`;
    return [wordChange("material.name", "material", was.name, is.name, sentence)];
  }
  const density: Figure = {
    key: "material.densityGPerCm3",
    label: `density of ${is.name}`,
    unit: "g/cm³",
    step: 0,
    of: (report) => report.material.densityGPerCm3,
  };
  return figuresOf([density], before, after);
}

/** Print settings that both plans have. */
function settingFigures(before: Report, after: Report): Figure[] {
  const [was, is] = [before.plan?.settings, after.plan?.settings];
  if (!was || !is) return [];
  return (Object.keys(printSettingDeclarations) as PrintSettingName[]).map((name) => ({
    key: `plan.settings.${name}`,
    label: inWords(name),
    unit: printSettingDeclarations[name].unit,
    step: 0,
    of: (report) => report.plan?.settings?.[name],
  }));
}

/** Measures that somebody took count to the last digit; estimates follow from them and are noise below a step. */
function headFigures(before: Report, after: Report): Figure[] {
  const names = new Set([...Object.keys(after.head ?? {}), ...Object.keys(before.head ?? {})]);
  const isEstimate = (name: string) =>
    [before, after].every(({ head }) => (head?.[name]?.source ?? "estimated") === "estimated");
  return [
    ...[...names].map((name) => ({
      key: `head.${name}`,
      label: `${isEstimate(name) ? "estimated " : ""}${inWords(name)} of the head`,
      unit: "mm",
      step: isEstimate(name) ? 0.1 : 0,
      of: (report: Report) => report.head?.[name]?.valueMm,
    })),
    { key: "easeOffsetMm", label: "ease", unit: "mm", step: 0, of: (report) => report.easeOffsetMm },
    { key: "hairMm", label: "hair", unit: "mm", step: 0, of: (report) => report.hairMm },
  ];
}

function parameterChanges(before: Report, after: Report): ReportChange[] {
  const old = new Map((before.parameters ?? []).map((parameter) => [parameter.name, parameter]));
  const changes = (after.parameters ?? []).flatMap(({ name, value, unit }): ReportChange[] => {
    const was = old.get(name);
    old.delete(name);
    const key = `parameters.${name}`;
    const label = inWords(name);
    const text = (each: string | number | boolean) =>
      typeof each === "number" ? withUnit(each, unit) : String(each);
    if (!was) return [wordChange(key, label, undefined, value, `parameter ${label} is new: ${text(value)}`)];
    if (was.value === value) return [];
    const sentence = `parameter ${label} ${text(value)} instead of ${text(was.value)}`;
    return [{ ...wordChange(key, label, was.value, value, sentence), unit }];
  });
  const gone = [...old.values()].map(({ name, value }) =>
    wordChange(
      `parameters.${name}`,
      inWords(name),
      value,
      undefined,
      `no parameter ${inWords(name)} any more`,
    ),
  );
  return [...changes, ...gone];
}

/** Limits of fit and wear that somebody set. */
function limitChanges(before: Report, after: Report): ReportChange[] {
  const [was, is] = [before.wear?.limitsSet ?? {}, after.wear?.limitsSet ?? {}];
  return [...new Set([...Object.keys(is), ...Object.keys(was)])].flatMap((name): ReportChange[] => {
    const [a, b] = [was[name]?.value, is[name]?.value];
    if (a === b) return [];
    const text = (value: number | undefined) => (value === undefined ? "as usual" : String(value));
    const sentence = `limit ${inWords(name)} ${text(b)} instead of ${text(a)}`;
    return [wordChange(`wear.limitsSet.${name}`, inWords(name), a, b, sentence)];
  });
}
