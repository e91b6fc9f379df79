import type { Material } from "../../checks/material";
import type { CastReportFilament, CastReportPrint } from "../../export/castReport";
import { rounded } from "../../export/rounding";
import { planSpools, type SpoolPlan, wasteShare } from "../../print/schedule/spools";
import type { Cast } from "./cast";
import type { CastRow } from "./castCells";
import type { CastMaterials } from "./castMaterials";
import type { CastSchedule } from "./castTasks";

/** What a cast needs of filament, and which print takes which spool: by index of the print. */
export interface CastFilament {
  readonly materials: readonly CastReportFilament[];
  readonly spools: readonly CastReportPrint["spools"][];
}

interface MaterialPrint {
  /** Index among the schedule's prints. */
  readonly print: number;
  readonly grams: number;
}

/** Filament by material over all prints of the schedule, less what is in stock. */
export function filamentOf(
  cast: Cast,
  rows: readonly CastRow[],
  { tasks, machines, schedule }: CastSchedule,
  materials: CastMaterials,
): CastFilament {
  const groups = new Map<string, { material: Material; prints: MaterialPrint[] }>();
  schedule.prints.forEach(({ task, printer }, print) => {
    const { piece } = tasks[task];
    const { kind } = machines[printer];
    const row = rows.find((one) => one.piece === piece && one.printer === kind)?.row;
    if (!row?.filament) return;
    const material = materials.of(row, cast.pieces[piece].material);
    const group = groups.get(material.name) ?? { material, prints: [] };
    group.prints.push({ print, grams: row.filament.grams });
    groups.set(material.name, group);
  });
  const spools: CastReportPrint["spools"][] = schedule.prints.map(() => []);
  const reports = [...groups.values()].map(({ material, prints }) => {
    const stock = cast.stock.filter((one) => one.material.name === material.name).map(({ grams }) => grams);
    const plan = planSpools(
      prints.map(({ print, grams }) => {
        const { start, end } = schedule.prints[print];
        return { grams: grams * (1 + wasteShare), start, end };
      }),
      stock,
      material.spool,
    );
    plan.uses.forEach((uses, i) => {
      spools[prints[i].print] = uses.map(({ spool, grams }) => ({
        spool: spoolName(material, spool, stock),
        grams: Math.ceil(grams - 1e-6),
      }));
    });
    return reportOf(
      material,
      prints.reduce((sum, { grams }) => sum + grams, 0),
      plan,
    );
  });
  return { materials: reports, spools };
}

function reportOf(material: Material, printsG: number, plan: SpoolPlan): CastReportFilament {
  const { name, spool, pricePerKilogram, currency } = material;
  return {
    material: name,
    printsG: rounded(printsG, 0),
    wasteG: rounded(plan.need - printsG, 0),
    stockG: rounded(plan.stock, 0),
    spoolG: spool,
    buy: plan.buy,
    ...(plan.buyInTurn !== undefined && { buyInTurn: plan.buyInTurn }),
    ...(pricePerKilogram !== undefined && {
      price: rounded((plan.buy * spool * pricePerKilogram) / 1000, 2),
    }),
    ...(currency !== undefined && { currency }),
    changes: plan.changes,
    ...(plan.buyForNoChange !== undefined && { buyForNoChange: plan.buyForNoChange }),
  };
}

const spoolName = ({ name }: Material, spool: number, stock: readonly number[]): string =>
  spool < stock.length
    ? `${name} in stock, no. ${spool + 1} (${Math.round(stock[spool])} g)`
    : `${name}, new spool no. ${spool - stock.length + 1}`;
