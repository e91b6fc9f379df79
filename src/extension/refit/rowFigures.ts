import type { RefitRow } from "../../build/refit/refitRow";
import { changesSentence } from "../../export/reportChanges";
import type { RowFigures } from "../../pages/refitTable/protocol";

/** Clauses of what changed that a cell has room for. */
const shownChanges = 2;

/** What the page shows of a row. */
export function rowFigures(row: RefitRow): RowFigures {
  const { headpiece, wearerName, verdict, passes, reasons, messages } = row;
  const { girthPlay, girthEase, chance, mass, box, plate, hours, picture, wayOn } = row;
  // That it is for somebody else is what the row says itself.
  const changes = row.changes?.filter(({ key }) => key !== "wearer");
  return {
    headpiece,
    wearer: wearerName,
    verdict,
    passes,
    reasons,
    messages,
    ...(girthPlay !== undefined && { girthPlay }),
    ...(girthEase !== undefined && { girthEase }),
    ...(chance !== undefined && { chance }),
    ...(mass !== undefined && { mass }),
    ...(box && { box: { width: box.width, depth: box.depth, height: box.height } }),
    ...(plate && { plate: { printer: plate.printer, fits: plate.fits, summary: plate.summary } }),
    ...(hours !== undefined && { hours }),
    ...(wayOn && { wayOn: wayOn.summary }),
    ...(changes && {
      changes: {
        short: changesSentence(changes, shownChanges),
        all: changes.map(({ sentence }) => sentence),
      },
    }),
    ...(picture !== undefined && { picture }),
  };
}
