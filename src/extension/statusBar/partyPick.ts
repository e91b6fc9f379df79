import type { PartyKind } from "../designState";
import type { Localiser } from "../localiser";
import type { PartySummary } from "../tree/partyFile";

/** A file of a wearer, printer, material or print settings among others. */
export interface PartyChoice {
  /** Where the file is, as the list shows it. */
  readonly path: string;
  /** What it is called where it has no name of its own. */
  readonly label: string;
  readonly summary: PartySummary;
  readonly isCurrent: boolean;
}

/** How a choice is written in a quick pick. */
export interface ChoiceText {
  readonly label: string;
  readonly description: string;
  readonly detail: string;
}

/** A file in the list: the current one is marked, a broken one says why. */
export function choiceText({ path, label, summary, isCurrent }: PartyChoice): ChoiceText {
  const icon = summary.error ? "$(error) " : isCurrent ? "$(check) " : "";
  return { label: `${icon}${summary.name ?? label}`, description: summary.detail, detail: path };
}

/** The choice of what the design itself says. @param named the file that it names, undefined where none */
export function ownChoiceText(
  kind: PartyKind,
  named: string | undefined,
  isCurrent: boolean,
  l10n: Localiser,
): ChoiceText {
  return {
    label: `${isCurrent ? "$(check) " : ""}${l10n.t("The design's own")}`,
    description: named ?? usual(kind, l10n),
    detail: l10n.t("what the design file says"),
  };
}

function usual(kind: PartyKind, l10n: Localiser): string {
  if (kind === "wearer") return l10n.t("none named: a head of mean size");
  if (kind === "printer") return l10n.t("none named: 220 × 220 × 250 mm");
  if (kind === "material") return l10n.t("none named: PLA");
  return l10n.t("none named: layers of 0.2 mm, 3 shells, 15 % infill");
}

/** What the list asks. */
export function choiceTitle(kind: PartyKind, design: string, l10n: Localiser): string {
  if (kind === "wearer") return l10n.t("Who wears {0}?", design);
  if (kind === "printer") return l10n.t("On which printer is {0} made?", design);
  if (kind === "material") return l10n.t("Of which material is {0} made?", design);
  return l10n.t("With which print settings is {0} made?", design);
}
