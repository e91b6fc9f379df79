import type { Message, Place } from "../../message";
import type { PieceView, SectionPlane, StandardView, ViewSettings } from "../pieceView";
import type { FromPreview, PartFacts, PreviewCommand } from "../protocol";
import type { ActionId } from "./actions";
import { comparisonStep, movedShare, shareText } from "./comparisonShare";
import { heightOfLayers, type Layers, layersUpTo, spokenLayer } from "./layers";
import type { ParameterState } from "./parameterValues";
import { differences } from "./parameterValues";
import { firstSection, movedSection, nextAxis } from "./sectionBar";
import { partText, wholePlace } from "./textEquivalent";
import { partOf, stepped } from "./walk";

/** What was walked to by keys: a part and, where it was a finding, which; −1 for none. */
export interface Walked {
  readonly part: number;
  readonly finding: number;
}

/** What the actions need of the preview. */
export interface Performer {
  readonly view: PieceView | undefined;
  readonly settings: ViewSettings;
  readonly parameters: ParameterState;
  readonly parts: readonly PartFacts[];
  readonly findings: readonly Message[];
  readonly walked: Walked;
  setSettings(settings: ViewSettings): void;
  /** Takes the controls back to what the file says, and sends nothing. */
  resetParameters(): void;
  /** Sends at once what waits for the next frame. */
  flushValues(): void;
  walkTo(walked: Walked): void;
  openPart(part: number): void;
  goTo(place: Place): void;
  /** What is known of the solid in the picture that can be shown in it. */
  readonly hasField: boolean;
  readonly hasBalance: boolean;
  readonly hasWay: boolean;
  /** Where the plate stands is known; the piece is seen on it. */
  readonly hasPlate: boolean;
  readonly isOnPlate: boolean;
  /** How the piece is printed is known. */
  readonly hasPlan: boolean;
  /** The layers of the print, as soon as they are planned. */
  readonly layers: Layers | undefined;
  /** The piece is shown beside its version in a commit. */
  readonly hasComparison: boolean;
  /** Opens the way on and plays it, or closes it. */
  toggleWay(): void;
  toggleDetails(): void;
  openHelp(): void;
  ask(message: FromPreview): void;
  say(text: string): void;
  /** Says it once nothing newer is said for a moment: for what is done many times in a row. */
  sayAtRest(text: string): void;
}

/** Degrees of one key press. */
const orbitStep = 10;
/** Shares of the view's height. */
const panStep = 0.1;
const zoomStep = 1.2;
/** Share of the piece's extent. */
const sectionStep = 0.02;

/** Every action and what it does; what cannot be heard otherwise is said. */
const performers: Readonly<Record<ActionId, (preview: Performer) => void>> = {
  viewFront: look("front"),
  viewBack: look("back"),
  viewLeft: look("left"),
  viewRight: look("right"),
  viewTop: look("top"),
  viewPlate: look("plate"),
  frame: ({ view }) => view?.frame(),
  projection: switchProjection,

  plateView: switchPlateView,
  overhang: switchOverhang,
  layersOn: moveLayers(10),
  layersBack: moveLayers(-10),
  layerOn: moveLayers(1),
  layerBack: moveLayers(-1),

  head: switchHead,
  plate: switchFlag("isPlateShown", "Plate"),
  dimensions: switchFlag("areDimensionsShown", "Dimensions"),
  wire: switchFlag("isWireShown", "Wire"),
  marks: switchFlag("areFindingsShown", "Marks"),
  field: switchField,
  balance: switchBalance,
  wayOn: toggleWay,
  differences: switchDifferences,
  towardsOld: moveComparison(-comparisonStep),
  towardsNew: moveComparison(comparisonStep),
  section: switchSection,
  sectionAxis: changeSection((section) => ({ ...section, axis: nextAxis(section.axis) })),
  sectionBack: changeSection((section) => movedSection(section, -sectionStep)),
  sectionOn: changeSection((section) => movedSection(section, sectionStep)),

  orbitLeft: ({ view }) => view?.orbit(-orbitStep, 0),
  orbitRight: ({ view }) => view?.orbit(orbitStep, 0),
  orbitUp: ({ view }) => view?.orbit(0, orbitStep),
  orbitDown: ({ view }) => view?.orbit(0, -orbitStep),
  panLeft: ({ view }) => view?.pan(-panStep, 0),
  panRight: ({ view }) => view?.pan(panStep, 0),
  panUp: ({ view }) => view?.pan(0, panStep),
  panDown: ({ view }) => view?.pan(0, -panStep),
  zoomIn: ({ view }) => view?.zoom(zoomStep),
  zoomOut: ({ view }) => view?.zoom(1 / zoomStep),

  nextFinding: (preview) => walkFindings(preview, 1),
  previousFinding: (preview) => walkFindings(preview, -1),
  nextPart: (preview) => walkParts(preview, 1),
  previousPart: (preview) => walkParts(preview, -1),
  goToLine: openWalked,
  unlight: (preview) => preview.walkTo({ part: -1, finding: -1 }),

  export: ask("export"),
  report: ask("showReport"),
  chooseWearer: ask("chooseWearer"),
  choosePrinter: ask("choosePrinter"),
  chooseMaterial: ask("chooseMaterial"),
  writeValues,
  resetValues,
  build: ask("build"),
  cancel: ask("cancel"),
  problems: ask("showProblems"),
  compare: ask("compareWithCommit"),
  endComparison: ask("endComparison"),

  savePicture,
  lock: ask("toggleLock"),
  details: (preview) => preview.toggleDetails(),
  help: (preview) => preview.openHelp(),
};

/** Does in the preview what an action stands for. */
export function performAction(preview: Performer, id: ActionId): void {
  performers[id](preview);
}

function look(view: StandardView) {
  return (preview: Performer) => preview.view?.look(view);
}

function ask(command: PreviewCommand) {
  return (preview: Performer) => preview.ask({ kind: "command", command });
}

function switchProjection(preview: Performer): void {
  const projection = preview.settings.projection === "parallel" ? "perspective" : "parallel";
  preview.setSettings({ ...preview.settings, projection });
  preview.say(projection === "parallel" ? "Parallel projection" : "Perspective");
}

type Flag =
  | "isHeadShown"
  | "isPlateShown"
  | "areDimensionsShown"
  | "isWireShown"
  | "areFindingsShown"
  | "isFieldShown"
  | "isBalanceShown"
  | "areDifferencesShown";

function switchFlag(flag: Flag, name: string) {
  return (preview: Performer) => {
    const isOn = !preview.settings[flag];
    preview.setSettings({ ...preview.settings, [flag]: isOn });
    preview.say(`${name} ${isOn ? "shown" : "hidden"}`);
  };
}

function switchPlateView(preview: Performer): void {
  const isPlateView = !preview.settings.isPlateView;
  if (isPlateView && !preview.hasPlate) {
    preview.say("There is no plate yet: it comes with the first build.");
    return;
  }
  preview.setSettings({ ...preview.settings, isPlateView });
  preview.say(isPlateView ? "Plate view: the piece as it is printed" : "The piece on the head");
}

function switchOverhang(preview: Performer): void {
  const { settings, isOnPlate, hasPlan } = preview;
  if (!hasPlan) {
    preview.say("Overhang colours come with the plan of the print.");
    return;
  }
  const isOverhangShown = !isOnPlate || !settings.isOverhangShown;
  preview.setSettings({ ...settings, isPlateView: true, isOverhangShown });
  preview.say(`Overhang colours ${isOverhangShown ? "shown" : "hidden"}`);
}

function moveLayers(by: number) {
  return (preview: Performer) => {
    const { settings, layers, isOnPlate } = preview;
    if (!isOnPlate || !layers) {
      preview.say(
        isOnPlate ? "The layers are not planned yet." : "Layers are walked through in the plate view.",
      );
      return;
    }
    const printed = Math.min(layers.count, Math.max(1, layersUpTo(layers, settings.printedHeight) + by));
    preview.setSettings({ ...settings, printedHeight: heightOfLayers(layers, printed) });
    preview.sayAtRest(spokenLayer(layers, printed));
  };
}

/** What is seen on the head alone takes the piece back there, shown. */
function backToHead(preview: Performer, flag: Flag, name: string): void {
  preview.setSettings({ ...preview.settings, isPlateView: false, [flag]: true });
  preview.say(`${name} shown on the head`);
}

function switchHead(preview: Performer): void {
  if (preview.isOnPlate) backToHead(preview, "isHeadShown", "Head");
  else switchFlag("isHeadShown", "Head")(preview);
}

function switchField(preview: Performer): void {
  const { hasField, isOnPlate, settings } = preview;
  if (!hasField && !settings.isFieldShown) {
    preview.say("There are no gap colours yet: they come with the checks of fit and wear.");
  } else if (isOnPlate) backToHead(preview, "isFieldShown", "Gap colours");
  else switchFlag("isFieldShown", "Gap colours")(preview);
}

function switchBalance(preview: Performer): void {
  const { hasBalance, isOnPlate, settings } = preview;
  if (!hasBalance && !settings.isBalanceShown) {
    preview.say("Balance and contacts come with the checks of fit and wear.");
  } else if (isOnPlate) backToHead(preview, "isBalanceShown", "Balance and contacts");
  else switchFlag("isBalanceShown", "Balance and contacts")(preview);
}

const noComparison = "The piece is not compared: Shift+V compares it with a commit.";

function switchDifferences(preview: Performer): void {
  const { hasComparison, isOnPlate } = preview;
  if (!hasComparison) preview.say(noComparison);
  else if (isOnPlate) backToHead(preview, "areDifferencesShown", "Differences");
  else switchFlag("areDifferencesShown", "Differences")(preview);
}

function moveComparison(by: number) {
  return (preview: Performer) => {
    const { settings, hasComparison } = preview;
    if (!hasComparison) {
      preview.say(noComparison);
      return;
    }
    const comparisonShare = movedShare(settings.comparisonShare, by);
    preview.setSettings({ ...settings, isPlateView: false, areDifferencesShown: true, comparisonShare });
    preview.sayAtRest(shareText(comparisonShare));
  };
}

function toggleWay(preview: Performer): void {
  if (preview.hasWay) preview.toggleWay();
  else preview.say("The way on comes with the checks of fit and wear.");
}

function switchSection(preview: Performer): void {
  if (preview.isOnPlate) {
    preview.say("On the plate the layers cut the piece: Page Up and Page Down walk through them.");
    return;
  }
  const section = preview.settings.section === undefined ? firstSection : undefined;
  preview.setSettings({ ...preview.settings, section });
  preview.say(section === undefined ? "Section hidden" : "Section shown");
}

/** Changes the section that is shown; without one there is nothing to change. */
function changeSection(change: (section: SectionPlane) => SectionPlane) {
  return (preview: Performer) => {
    const { settings } = preview;
    if (settings.section !== undefined && !preview.isOnPlate)
      preview.setSettings({ ...settings, section: change(settings.section) });
  };
}

const hasChanges = (preview: Performer): boolean => Object.keys(differences(preview.parameters)).length > 0;

function writeValues(preview: Performer): void {
  if (!hasChanges(preview)) return;
  preview.flushValues();
  preview.ask({ kind: "writeValues" });
}

function resetValues(preview: Performer): void {
  if (!hasChanges(preview)) return;
  preview.resetParameters();
  preview.ask({ kind: "resetValues" });
}

function walkFindings(preview: Performer, by: 1 | -1): void {
  const { findings } = preview;
  const finding = stepped(preview.walked.finding, by, findings.length);
  if (finding < 0) {
    preview.say("Nothing was found.");
    return;
  }
  preview.walkTo({ part: partOf(findings[finding], preview.parts), finding });
  const { severity, text, suggestion } = findings[finding];
  preview.say(`${severity} ${finding + 1} of ${findings.length}: ${text} ${suggestion ?? ""}`.trim());
}

function walkParts(preview: Performer, by: 1 | -1): void {
  const { parts } = preview;
  const part = stepped(preview.walked.part, by, parts.length);
  if (part < 0) {
    preview.say("There are no parts yet.");
    return;
  }
  preview.walkTo({ part, finding: -1 });
  preview.say(`Part ${part + 1} of ${parts.length}: ${partText(parts[part])}`);
}

function openWalked(preview: Performer): void {
  const { part, finding } = preview.walked;
  const place = finding < 0 ? undefined : wholePlace(preview.findings[finding]);
  if (place !== undefined) preview.goTo(place);
  else if (part >= 0) preview.openPart(part);
}

function savePicture(preview: Performer): void {
  preview.view
    ?.picture()
    .then((png) => preview.ask({ kind: "picture", png }))
    .catch((error: unknown) =>
      preview.ask({
        kind: "fault",
        text: `The picture could not be made: ${error instanceof Error ? error.message : String(error)}`,
      }),
    );
}
