import type { Message, Place } from "../../message";

/** What the extension and the page of the refit table tell each other: plain data, checked by `protocolChecks.ts`. */

/** `failed`: it came to no solid. */
export type RowVerdict = "wear" | "adjust" | "dont" | "failed";

/**
 * How a row stands: `waiting` has never been made, `outdated` shows what was before a change and is made again or waits
 * for that.
 */
export type RowState = "waiting" | "current" | "outdated";

/** One row as it stands in the table; its figures come apart, since they are large and change seldom. */
export interface RowPlace {
  readonly key: string;
  /** What the wearer's file is called, until its name is known. */
  readonly label: string;
  readonly state: RowState;
  /** The design's preview shows it on this wearer. */
  readonly isChosen: boolean;
}

/** The rows of one design. */
export interface RowGroup {
  readonly design: string;
  /** What the design's file is called. */
  readonly label: string;
  readonly rows: readonly RowPlace[];
}

/** What is known of a row. mm, g, h; absent where it is not known or does not apply. */
export interface RowFigures {
  readonly headpiece: string;
  readonly wearer: string;
  readonly verdict: RowVerdict;
  /** It may be worn or adjusted, and fits the plate: it is among what is exported. */
  readonly passes: boolean;
  readonly reasons: readonly string[];
  readonly girthPlay?: number;
  readonly girthEase?: number;
  /** Chance that it goes on and rests, 0 to 1. */
  readonly chance?: number;
  readonly mass?: number;
  readonly box?: { readonly width: number; readonly depth: number; readonly height: number };
  readonly plate?: { readonly printer: string; readonly fits: boolean; readonly summary: string };
  readonly hours?: number;
  /** How it goes on, or what keeps it off. */
  readonly wayOn?: string;
  /** What differs from the same design on its first wearer; absent on that row itself. */
  readonly changes?: { readonly short: string; readonly all: readonly string[] };
  /** A whole SVG document. */
  readonly picture?: string;
  readonly messages: readonly Message[];
}

export type Scope = "design" | "all";

export type RunPhase = "idle" | "running" | "paused" | "cancelled" | "failed";

/** What the table is of, and how far it is. */
export interface TableMessage {
  readonly kind: "table";
  readonly scope: Scope;
  /** The design that "This design" means; undefined where there is none. */
  readonly design?: { readonly uri: string; readonly label: string };
  readonly groups: readonly RowGroup[];
  readonly run: {
    readonly phase: RunPhase;
    readonly done: number;
    readonly all: number;
    /** Why it failed. */
    readonly trouble?: string;
  };
  /** About the whole, not one row. */
  readonly messages: readonly Message[];
  readonly cautions: readonly string[];
}

export type ToRefitTable =
  | TableMessage
  | { readonly kind: "row"; readonly key: string; readonly figures: RowFigures }
  /** Shown in place of the table. */
  | {
      readonly kind: "notice";
      readonly title: string;
      readonly text: string;
      readonly action?: { readonly label: string; readonly command: RefitTableCommand };
    };

export const refitTableCommands = ["manageTrust", "newWearer", "newDesign"] as const;
export type RefitTableCommand = (typeof refitTableCommands)[number];

export type FromRefitTable =
  /** It takes messages now. */
  | { readonly kind: "ready" }
  /** Show the preview of this row: its design on its wearer. */
  | { readonly kind: "show"; readonly key: string }
  | { readonly kind: "goTo"; readonly place: Place }
  | { readonly kind: "scope"; readonly scope: Scope }
  | { readonly kind: "cancel" }
  | { readonly kind: "again" }
  | { readonly kind: "export" }
  | { readonly kind: "command"; readonly command: RefitTableCommand }
  /** Something went wrong in the page itself. */
  | { readonly kind: "fault"; readonly text: string };
