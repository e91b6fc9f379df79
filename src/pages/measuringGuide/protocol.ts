/** What the extension and the measuring guide tell each other. Lengths are texts as they are typed or shown. */

/** One step of the guide: one measure. */
export interface GuideStep {
  /** Its key in the wearer's file. */
  readonly measure: string;
  readonly title: string;
  readonly instrument: string;
  readonly where: string;
  readonly how: string;
  readonly mistakes: string;
  /** Its drawing, as SVG; the hair has none. */
  readonly drawing?: string;
  /** Readings that are taken; a measure that is guessed takes one. */
  readonly readings: 1 | 2;
  /** The head form cannot be built without it. */
  readonly isNeeded: boolean;
  /** What the wearer's file says of it that is no reading: a value with a tolerance, a hat size. */
  readonly stands?: string;
}

/** Readings by measure, as typed; an empty text is none. */
export type Entries = Readonly<Record<string, readonly string[]>>;

/** Everything that the guide shows of a wearer before anything is typed. */
export interface GuideMessage {
  readonly kind: "guide";
  /** Whose guide it is: what was typed for another is not shown here. */
  readonly key: string;
  readonly name: string;
  readonly unit: string;
  /** Units that can be chosen; one for a file that has its own. */
  readonly units: readonly string[];
  readonly steps: readonly GuideStep[];
  /** What the file holds already. */
  readonly entries: Entries;
  readonly cautions: readonly string[];
}

export interface Remark {
  readonly severity: "error" | "warning" | "note";
  readonly text: string;
}

/** What is to be said of one measure as it stands. */
export interface MeasureVerdict {
  readonly mean?: string;
  readonly difference?: string;
  readonly allowed?: string;
  /** The readings differ by more than is allowed. */
  readonly differ: boolean;
  /** What it is taken to be without readings. */
  readonly estimate?: string;
  readonly remarks: readonly Remark[];
}

export interface VerdictMessage {
  readonly kind: "verdict";
  /** Of the `check` that it answers. */
  readonly request: number;
  readonly verdicts: Readonly<Record<string, MeasureVerdict>>;
  /** Nothing stands in the way of writing the file. */
  readonly canFinish: boolean;
}

/** The file was written, or not: then the sentence says why. */
export interface FinishedMessage {
  readonly kind: "finished";
  readonly isWritten: boolean;
  readonly text: string;
}

export type ToGuide = GuideMessage | VerdictMessage | FinishedMessage;

export type FromGuide =
  | { readonly kind: "ready" }
  | { readonly kind: "check"; readonly request: number; readonly unit: string; readonly entries: Entries }
  | { readonly kind: "finish"; readonly unit: string; readonly entries: Entries }
  | { readonly kind: "sheet" }
  | { readonly kind: "fault"; readonly text: string };
