import type { PrintSettingName } from "../../printSettings";
import type { ChangeCost } from "./changeCost";
import type { PrintFigures } from "./evaluations";
import type { WishProblem } from "./parseWish";
import type { Variant } from "./variant";
import type { WishCondition } from "./wish";

/** A way of printing that a wish led to. */
export interface WishChoice {
  readonly variant: Variant;
  readonly figures: PrintFigures;
  readonly changed: readonly (PrintSettingName | "orientation")[];
  /** The change in words, and the option of the design that makes it; empty where nothing changes. */
  readonly change: string;
  readonly line: string;
  readonly cost: ChangeCost;
  readonly fits: boolean;
}

/** A condition that does not hold, and by how much. */
export interface MissedCondition {
  readonly condition: WishCondition;
  readonly value: number;
  /** Share of the limit. */
  readonly excess: number;
}

interface Answered {
  readonly choice: WishChoice;
  /** What it takes as set up. */
  readonly before: PrintFigures;
  /** Every way of printing was looked at or ruled out; else only as many as the bound allowed. */
  readonly isSure: boolean;
  readonly geometries: number;
  /** The whole answer, for a person. */
  readonly words: string;
}

export type WishAnswer =
  | ({ readonly outcome: "met" } & Answered)
  /** The choice is what comes nearest: its most missed condition is missed by the least share. */
  | ({
      readonly outcome: "impossible";
      readonly missed: readonly MissedCondition[];
      /** What else could help, besides print settings. */
      readonly remedies: readonly string[];
    } & Answered)
  /** It asks for what is not known. */
  | { readonly outcome: "unknown"; readonly problems: readonly WishProblem[] };
