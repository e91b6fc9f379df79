import type { Message } from "../message";

/**
 * The plan of a cast as data: what `anadem cast --json` prints, what the sheet shows and what is kept. Dates are
 * `2027-05-14`, moments `2027-05-14T08:30` of the clock on the wall; files are named relative to the cast's file.
 */
export interface CastReport {
  readonly production: string;
  readonly file: string;
  readonly today: string;
  /** First day on which can be printed. */
  readonly begins: string;
  /** The last day for prints. */
  readonly readyBy: string;
  readonly opens: string;
  /** Nothing is late, without a place, or for nobody. */
  readonly ok: boolean;
  readonly pieces: readonly CastReportPiece[];
  readonly printers: readonly CastReportPrinter[];
  /** In the order in which they are begun. */
  readonly prints: readonly CastReportPrint[];
  readonly filament: readonly CastReportFilament[];
  readonly schedule: {
    /** What it is best at, in words. */
    readonly optimised: string;
    /** `exact`: none is better; `search`: none was found that is. */
    readonly method: "exact" | "search";
    /** Of the latest print: hours after it is due, below 0 where all are in time. Absent where nothing is printed. */
    readonly greatestLatenessHours?: number;
    readonly lastEnd?: string;
  };
  /** What the figures rest on, a sentence each. */
  readonly basis: readonly string[];
  readonly findings: readonly Message[];
  readonly cautions: readonly string[];
}

/** A piece of the cast. */
export interface CastReportPiece {
  readonly headpiece: string;
  readonly role?: string;
  readonly wearer: string;
  readonly design: string;
  readonly copies: number;
  readonly verdict: "wear" | "adjust" | "dont" | "failed";
  readonly reasons: readonly string[];
  readonly girthPlayMm?: number;
  readonly girthEaseMm?: number;
  /** Printed, of one. */
  readonly massG?: number;
  readonly material?: string;
  /** The last day for its print. */
  readonly by: string;
  /** On each printer at hand that it may be printed on. */
  readonly on: readonly CastReportFit[];
  /** Who else of the cast could wear it, made for them; where it suits not whom it is for. */
  readonly others?: readonly string[];
  /** A small picture, a whole SVG document. */
  readonly picture?: string;
}

/** A piece on a printer. */
export interface CastReportFit {
  readonly printer: string;
  readonly fits: boolean;
  /** How it lies there, or by how much it is too large. */
  readonly summary: string;
  /** The estimate, and the band's upper end, with which is planned. Of one. */
  readonly hours?: number;
  readonly hoursMost?: number;
  /** Filament with supports, of one. */
  readonly filamentG?: number;
  /** Pieces into which it is cut, where it fits only so. */
  readonly cutInto?: number;
}

/** Printers of one kind at hand. */
export interface CastReportPrinter {
  readonly name: string;
  readonly count: number;
  readonly prints: number;
  /** All of them together. */
  readonly hours: number;
  /** Days on which something prints. */
  readonly days: number;
  /** Hours of the prints by the hours that they may run from the beginning to the last day for prints, %. */
  readonly loadPercent: number;
}

/** A print in its place. */
export interface CastReportPrint {
  /** Index of its piece. */
  readonly piece: number;
  /** From 1, where there are several of a piece. */
  readonly copy?: number;
  /** With its number, where there are several of a kind. */
  readonly printer: string;
  readonly start: string;
  readonly end: string;
  readonly hours: number;
  /** Until when it can wait so that nothing is late; absent where something is late in any case. */
  readonly latestStart?: string;
  readonly slackHours?: number;
  /** Hours after it is due; 0 where it is in time. */
  readonly lateHours: number;
  readonly spools: readonly { readonly spool: string; readonly grams: number }[];
}

/** Filament of one material for all prints. */
export interface CastReportFilament {
  readonly material: string;
  /** What the prints take. */
  readonly printsG: number;
  /** What is lost besides. */
  readonly wasteG: number;
  readonly stockG: number;
  readonly spoolG: number;
  /** Full spools to buy. */
  readonly buy: number;
  /** Spools that would do if nothing were printed at the same time, where they are fewer. */
  readonly buyInTurn?: number;
  readonly price?: number;
  readonly currency?: string;
  /** Times that a spool is changed while something prints. */
  readonly changes: number;
  /** Spools to buy so that none is. */
  readonly buyForNoChange?: number;
}

/** The plan as it is kept in a file: without the pictures, which the sheet has. */
export const castJson = (report: CastReport): string =>
  `${JSON.stringify({ ...report, pieces: report.pieces.map(({ picture: _, ...piece }) => piece) }, undefined, 2)}\n`;

/** What a piece is called among others: role and name, for whom. */
export const pieceLabel = ({ headpiece, role, wearer }: CastReportPiece): string =>
  role === undefined ? `${headpiece} for ${wearer}` : `${role}: ${headpiece}`;

/** A print as it is called: its piece, with its number where there are several. */
export const printLabel = ({ pieces }: CastReport, { piece, copy }: CastReportPrint): string =>
  `${pieceLabel(pieces[piece])}${copy === undefined ? "" : `, no. ${copy}`}`;
