import type { Message } from "../../../message";
import type { Localiser } from "../../localiser";
import type { TextChange } from "../../textChange";

/** An edit of the file in which a finding stands that removes the finding. */
export interface Fix {
  readonly title: string;
  readonly changes: readonly TextChange[];
  /** It can only be what was meant. */
  readonly isSafe: boolean;
}

/** A finding and what surrounds it. */
export interface FixContext {
  readonly message: Message;
  /** The text of the file in which the finding stands. */
  readonly text: string;
  /** Where the finding begins in the text. */
  readonly offset: number;
  /** Base name of the file in which the finding stands. */
  readonly fileName: string;
  /** Names of the files beside it. */
  readonly neighbours: readonly string[];
  readonly l10n: Localiser;
}

/** Finds the fixes for some messages; none where it is not plain what would be right. */
export type FixFinder = (context: FixContext) => Fix[];
