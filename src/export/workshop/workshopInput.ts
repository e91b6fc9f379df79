import type { Message } from "../../message";
import type { Finishing } from "../../print/finishing";
import type { LayerPlan, PathKind } from "../../print/layers/layerPlan";

/** What the workshop sheet says: plain data, figures ready to be read where they are text. What is absent is left out. */
export interface WorkshopInput {
  /** Name of the headpiece. */
  readonly title: string;
  readonly wearer?: string;
  /** What it is printed on, of what and with which settings, one line. */
  readonly setup?: string;
  /** The most asked first: hours with their band, metres, grams, price, spools. */
  readonly figures: readonly WorkshopFigure[];
  readonly standing?: WorkshopStanding;
  /** One a plate that is printed, in the order of printing. */
  readonly prints?: readonly WorkshopPrint[];
  readonly filament?: readonly { readonly kind: PathKind; readonly grams: number; readonly metres: number }[];
  /** Settings of printer, material and print as they were reckoned with. */
  readonly settings: readonly { readonly label: string; readonly value: string; readonly note?: string }[];
  readonly supports?: WorkshopSupports;
  readonly props?: WorkshopProps;
  readonly pieces?: WorkshopPieces;
  readonly finishing?: Finishing;
  readonly whatIf?: WorkshopWhatIf;
  readonly findings?: readonly Message[];
  /** What the figures rest on, a sentence each. */
  readonly basis?: readonly string[];
  /** Never empty. */
  readonly cautions: readonly string[];
}

export interface WorkshopFigure {
  readonly label: string;
  readonly value: string;
  readonly note?: string;
}

/** Which way up. Pictures are whole SVG documents. */
export interface WorkshopStanding {
  /** In one clause: "lying back, tilted 35°". */
  readonly words: string;
  readonly picture?: string;
  /** The orientations that were compared, the chosen one among them; figures the same for all in the same order. */
  readonly choices?: readonly {
    readonly name: string;
    readonly words: string;
    readonly picture?: string;
    readonly figures: readonly { readonly label: string; readonly value: string; readonly isBest: boolean }[];
    readonly isChosen: boolean;
  }[];
}

/** One filled plate from start to end. */
export interface WorkshopPrint {
  /** Where there are several: "Plate 1". */
  readonly name?: string;
  readonly layers: Pick<LayerPlan, "count" | "layerHeight"> & {
    readonly seconds: Readonly<Record<keyof LayerPlan["seconds"], ArrayLike<number>>>;
  };
  /** Before the first layer, s. */
  readonly startTime: number;
  readonly spoolEnds: readonly SpoolEnd[];
}

/** Where a spool runs out. */
export interface SpoolEnd {
  /** Counted from 1, over all prints. */
  readonly spool: number;
  /** Index from 0. */
  readonly layer: number;
  /** mm over the plate. */
  readonly height: number;
  /** From the start of this print, s. */
  readonly seconds: number;
}

export interface WorkshopSupports {
  readonly volumeCm3: number;
  readonly contactCm2: number;
  readonly landingCm2: number;
  readonly columns: number;
  /** Those that cause most, the greatest volume first. */
  readonly tubes: readonly {
    readonly part: string;
    readonly volumeCm3: number;
    readonly contactCm2: number;
    readonly columns: number;
  }[];
  readonly thinColumns: readonly {
    /** Part that is held up. */
    readonly part: string;
    readonly heightMm: number;
    readonly widthMm: number;
    readonly risk: string;
    readonly remedy?: string;
  }[];
}

export interface WorkshopProps {
  readonly rows: readonly {
    readonly name: string;
    /** Part that is held up. */
    readonly part: string;
    readonly heightMm: number;
    readonly thicknessMm: number;
    readonly neckMm: number;
  }[];
  /** What changes by them. */
  readonly comparison?: readonly {
    readonly label: string;
    readonly without: string;
    readonly with: string;
  }[];
}

export interface WorkshopPieces {
  readonly rows: readonly {
    readonly name: string;
    readonly sizeMm: readonly [number, number, number];
    readonly volumeCm3: number;
    readonly grams?: number;
    readonly hours?: string;
    readonly plate?: string;
    readonly file?: string;
  }[];
  /** In the order in which they are joined, a sentence each. */
  readonly assembly: readonly string[];
  /** The packed plates seen from above, whole SVG documents. */
  readonly plates?: readonly {
    readonly name: string;
    readonly pieces: readonly string[];
    readonly picture?: string;
  }[];
}

export interface WorkshopWhatIf {
  /** What is wished, and how it is met. */
  readonly wish?: string;
  readonly answer?: string;
  readonly columns: readonly string[];
  readonly rows: readonly { readonly cells: readonly string[]; readonly isChosen?: boolean }[];
}
