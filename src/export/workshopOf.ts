import { pathKinds } from "../print/layers/layerPlan";
import { orientationWords } from "../print/orientation/orientationWords";
import { placedPiece } from "../print/placedPiece";
import type { PrintJob, PrintPlan } from "../print/plan";
import { type PrintSettingDeclaration, printSettingDeclarations, printSettingNames } from "../printSettings";
import { hoursAndMinutes } from "./durations";
import { orientationPicture } from "./orientationPicture";
import type { ReportPlan } from "./planReport";
import { orientationFigures, planLines } from "./planSentences";
import type { Report } from "./report";
import type { WorkshopInput, WorkshopPrint } from "./workshop/workshopInput";
import { workshopSheet } from "./workshop/workshopSheet";

/** The workshop sheet of a planned piece, as a whole HTML document. @throws Error for a report without a plan */
export function workshopOf(report: Report, plan: PrintPlan, job: PrintJob): string {
  const planned = report.plan;
  if (!planned) throw new Error("a report without a plan makes no workshop sheet");
  return workshopSheet(workshopInput(report, planned, plan, job));
}

function workshopInput(report: Report, planned: ReportPlan, plan: PrintPlan, job: PrintJob): WorkshopInput {
  const { printer, material, mesh } = job;
  const figures = orientationFigures(planned);
  const picture = (orientation: PrintPlan["chosen"]["orientation"]) =>
    orientationPicture(
      placedPiece(mesh, orientation, printer.plate),
      printer.plate,
      orientationWords(orientation),
    );
  const isCut = (plan.pieces?.pieces.length ?? 1) > 1;
  return {
    title: report.headpiece,
    wearer: report.wearer,
    setup: `${planned.printer}, ${planned.material}, ${planned.settingsName}`,
    figures: planLines(planned).map(({ label, value }) => ({ label, ...headAndRest(value) })),
    ...(!isCut && {
      standing: {
        words: planned.orientation.words,
        picture: picture(plan.chosen.orientation),
        choices: (plan.search?.found ?? []).map(({ orientation }, i) => ({
          name: planned.orientations[i].names.join(", "),
          words: planned.orientations[i].words,
          picture: picture(orientation),
          figures: figures[i],
          isChosen: planned.orientations[i].isChosen,
        })),
      },
    }),
    prints: printsOf(plan, printer.startTime),
    filament: pathKinds.flatMap((kind) => {
      const grams = plan.plates.reduce((sum, { totals }) => sum + totals.gramsByKind[kind], 0);
      const metres = plan.totals.grams > 0 ? (grams * plan.totals.metres) / plan.totals.grams : 0;
      return grams > 0 ? [{ kind, grams, metres }] : [];
    }),
    settings: [
      ...printSettingNames.map((name) => {
        const { unit, help }: PrintSettingDeclaration = printSettingDeclarations[name];
        const value = planned.settings[name];
        return { label: help, value: unit ? `${value} ${unit}` : String(value) };
      }),
      { label: "nozzle", value: `${printer.nozzle} mm` },
      { label: "density", value: `${material.density} g/cm³` },
      { label: "filament on a spool", value: `${material.spool} g` },
    ],
    supports: {
      volumeCm3: planned.supports.volumeCm3,
      contactCm2: planned.supports.contactCm2,
      landingCm2: planned.supports.landingCm2,
      columns: planned.supports.columns,
      tubes: planned.supports.parts,
      thinColumns: planned.supports.thinColumns.map(({ parts, heightMm, widthMm, risk }) => ({
        part: parts[0] ?? "",
        heightMm,
        widthMm,
        risk,
      })),
    },
    ...propsOf(planned, plan, job),
    ...(planned.pieces && isCut && { pieces: piecesOf(planned.pieces) }),
    ...(plan.finishing && { finishing: plan.finishing }),
    findings: planned.findings,
    basis: [planned.hoursBasis, report.massPrintedBasis],
    cautions: report.cautions,
  };
}

/** The first clause of a line, to be read from afar, and the rest. */
function headAndRest(text: string): { value: string; note?: string } {
  const [head, ...rest] = text.split(/(?<=[;:,]) /);
  return { value: head.replace(/[;:,]$/, ""), ...(rest.length > 0 && { note: rest.join(" ") }) };
}

/** One a plate; spools are counted over all. */
function printsOf(plan: PrintPlan, startTime: number): WorkshopPrint[] {
  return plan.plates.map(({ layers, totals }, i) => {
    const ends = totals.spoolEnds.map(({ spool, layer, height, hours }) => ({
      spool,
      layer,
      height,
      seconds: 3600 * hours,
    }));
    return {
      ...(plan.plates.length > 1 && { name: `Plate ${i + 1}` }),
      layers,
      startTime,
      spoolEnds: ends,
    };
  });
}

function propsOf(
  planned: ReportPlan,
  { plates }: PrintPlan,
  { parts }: Pick<PrintJob, "parts">,
): Pick<WorkshopInput, "props"> {
  const { proposed } = planned;
  const printed = plates.flatMap(({ props }) => (props && props.necks.length > 0 ? props : []));
  if (printed.length === 0 && !proposed) return {};
  return {
    props: {
      rows: printed.flatMap((props) => propRows(props, parts)),
      ...(proposed && {
        comparison: [
          {
            label: "hours",
            without: hoursAndMinutes(3600 * planned.hours),
            with: hoursAndMinutes(3600 * proposed.hours),
          },
          {
            label: "filament",
            without: `${Math.round(planned.grams)} g`,
            with: `${Math.round(proposed.grams)} g`,
          },
          {
            label: "thin columns",
            without: String(proposed.thinColumnsBefore),
            with: String(proposed.thinColumnsAfter),
          },
        ],
      }),
    },
  };
}

/** What is broken off, a row a part that it holds up. */
function propRows(
  { necks, byPart, struts }: NonNullable<PrintPlan["plates"][number]["props"]>,
  parts: PrintJob["parts"],
): NonNullable<WorkshopInput["props"]>["rows"] {
  const most = (values: readonly number[]) => values.reduce((a, b) => Math.max(a, b), 0);
  const widest = most(struts.flatMap(({ rings }) => rings.map(({ radius }) => 2 * radius)));
  return byPart.map(({ part, necks: count }) => {
    const own = necks.filter((neck) => neck.part === part);
    return {
      name: `${count} ${count === 1 ? "neck" : "necks"}`,
      part: parts[part]?.name ?? "what the head left",
      heightMm: most(own.map(({ at }) => at[2])),
      thicknessMm: widest,
      neckMm: most(own.map(({ diameter }) => diameter)),
    };
  });
}

function piecesOf(pieces: NonNullable<ReportPlan["pieces"]>): NonNullable<WorkshopInput["pieces"]> {
  const plates = [...new Set(pieces.pieces.map(({ plate }) => plate))].sort((a, b) => a - b);
  return {
    rows: pieces.pieces.map(({ name, sizeMm, volumeCm3, plate }) => ({
      name,
      sizeMm: [sizeMm[0], sizeMm[1], sizeMm[2]] as const,
      volumeCm3,
      plate: String(plate),
    })),
    assembly: pieces.assembly,
    plates: plates.map((plate) => ({
      name: `Plate ${plate}`,
      pieces: pieces.pieces.filter((one) => one.plate === plate).map(({ name }) => name),
    })),
  };
}
