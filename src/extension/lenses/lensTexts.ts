import { posix } from "node:path";
import { commandIds } from "../commandIds";
import type { DesignState } from "../designState";
import type { Localiser } from "../localiser";
import { designFigures } from "../statusBar/designFigures";
import { failureText } from "../statusBar/designWords";

/** A lens above a headpiece: what it says and the command that it runs on the design. */
export interface LensText {
  readonly text: string;
  readonly tooltip: string;
  readonly command: string;
  /** The command takes no design. */
  readonly isPlain?: boolean;
}

const showProblems = "workbench.actions.view.problems";

/**
 * The lenses of a design, in the order in which they are read.
 * @param named the wearer's file that the text of the design names
 */
export function lensTexts(
  state: DesignState,
  named: string | undefined,
  isTrusted: boolean,
  l10n: Localiser,
): LensText[] {
  if (!isTrusted) {
    return [
      {
        text: l10n.t("Restricted Mode: committed report"),
        tooltip: l10n.t(
          "Nothing is built until you trust this folder. The report kept beside the design can be read.",
        ),
        command: commandIds.showReport,
      },
    ];
  }
  return [
    wearerLens(state, named, l10n),
    ...resultLenses(state, l10n),
    {
      text: l10n.t("Export"),
      tooltip: l10n.t("Writes the STL, report and drawing sheet"),
      command: commandIds.export,
    },
    {
      text: l10n.t("Preview"),
      tooltip: l10n.t("Shows the piece on its head"),
      command: commandIds.showPreview,
    },
  ];
}

function wearerLens({ facts, chosen }: DesignState, named: string | undefined, l10n: Localiser): LensText {
  const file = chosen.wearer?.path ?? named;
  const name = facts?.wearer ?? (file && posix.basename(file).replace(/\.wearer\.json$/, ""));
  return {
    text: `$(account) ${name ?? l10n.t("no wearer named")}`,
    tooltip: chosen.wearer
      ? l10n.t("Chosen for now; the design names another wearer. Choose a wearer…")
      : l10n.t("Choose a wearer…"),
    command: commandIds.chooseWearer,
  };
}

function resultLenses(state: DesignState, l10n: Localiser): LensText[] {
  if (state.status === "failed") {
    return [
      {
        text: `$(error) ${failureText(state, l10n)}`,
        tooltip: l10n.t("Show Problems"),
        command: showProblems,
        isPlain: true,
      },
    ];
  }
  const { mass, box, fit, verdict, print } = designFigures(state, l10n);
  if (!mass && !fit) {
    // While a first build goes on there is nothing to be said that the status bar does not say.
    if (state.status === "building") return [];
    return [
      { text: `$(play) ${l10n.t("Build")}`, tooltip: l10n.t("Builds the piece"), command: commandIds.build },
    ];
  }
  const lenses: LensText[] = [];
  if (mass && box) {
    const isStale = state.isOutdated && state.status !== "building";
    lenses.push({
      text: `${isStale ? "$(history) " : ""}${mass} · ${box}`,
      tooltip: isStale ? l10n.t("Out of date. Show the report") : l10n.t("Show the report"),
      command: commandIds.showReport,
    });
  }
  if (fit) {
    lenses.push({
      text: fit.fits
        ? l10n.t("fits {0}", fit.printer)
        : `$(warning) ${l10n.t("does not fit {0}", fit.printer)}`,
      tooltip: [fit.long, l10n.t("Choose a printer…")].filter((text) => text !== "").join(". "),
      command: commandIds.choosePrinter,
    });
  }
  if (print && !(state.isOutdated && state.status !== "building")) {
    lenses.push({
      text: l10n.t("{0}, {1} to print", print.hours, print.filament),
      tooltip: l10n.t("Time and filament of the print, supports counted. Choose print settings…"),
      command: commandIds.choosePrintSettings,
    });
  }
  if (verdict && !(state.isOutdated && state.status !== "building")) {
    lenses.push({
      text: verdict.isGood ? verdict.short : `$(warning) ${verdict.short}`,
      tooltip: verdict.reason ?? l10n.t("Nothing was found that speaks against wearing it. Show the report"),
      command: commandIds.showReport,
    });
  }
  return lenses;
}
