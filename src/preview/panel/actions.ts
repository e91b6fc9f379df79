/**
 * Everything that can be done in the view: its name, its one key, and its place in the help. The toolbar, the keyboard
 * and the help dialog are all made from this table, so that none forgets one.
 */

export const groups = ["Views", "Show", "Camera", "Find", "Piece", "This view"] as const;
export type Group = (typeof groups)[number];

interface ActionFacts {
  /** What a screen reader and the help call it. */
  readonly label: string;
  /** `KeyboardEvent.key`; letters in upper case. Never with Ctrl, Alt or Cmd: those are the editor's. */
  readonly key: string;
  readonly shift?: true;
  readonly group: Group;
}

const table = {
  viewFront: { label: "View from the front", key: "1", group: "Views" },
  viewBack: { label: "View from the back", key: "2", group: "Views" },
  viewLeft: { label: "View from the left", key: "3", group: "Views" },
  viewRight: { label: "View from the right", key: "4", group: "Views" },
  viewTop: { label: "View from the top", key: "5", group: "Views" },
  viewPlate: { label: "View from the plate", key: "6", group: "Views" },
  frame: { label: "Frame all", key: "F", group: "Views" },
  projection: { label: "Parallel projection", key: "P", group: "Views" },

  plateView: { label: "Plate view: as it is printed", key: "U", group: "Show" },
  overhang: { label: "Overhang colours", key: "U", shift: true, group: "Show" },
  layersOn: { label: "Ten layers more", key: "PageUp", group: "Show" },
  layersBack: { label: "Ten layers less", key: "PageDown", group: "Show" },
  layerOn: { label: "One layer more", key: "PageUp", shift: true, group: "Show" },
  layerBack: { label: "One layer less", key: "PageDown", shift: true, group: "Show" },
  head: { label: "Head", key: "H", group: "Show" },
  plate: { label: "Plate and build volume", key: "B", group: "Show" },
  dimensions: { label: "Dimensions", key: "D", group: "Show" },
  wire: { label: "Wire", key: "W", group: "Show" },
  marks: { label: "Marks of findings", key: "M", group: "Show" },
  field: { label: "Gap colours", key: "G", shift: true, group: "Show" },
  balance: { label: "Balance and contacts", key: "B", shift: true, group: "Show" },
  wayOn: { label: "Show the way on", key: "W", shift: true, group: "Show" },
  differences: { label: "Differences to the commit", key: "C", shift: true, group: "Show" },
  towardsOld: { label: "Towards the old piece", key: "Q", group: "Show" },
  towardsNew: { label: "Towards the piece of now", key: "Y", group: "Show" },
  section: { label: "Section", key: "X", group: "Show" },
  sectionAxis: { label: "Next axis of the section", key: "X", shift: true, group: "Show" },
  sectionBack: { label: "Move the section back", key: ",", group: "Show" },
  sectionOn: { label: "Move the section on", key: ".", group: "Show" },

  orbitLeft: { label: "Orbit left", key: "ArrowLeft", group: "Camera" },
  orbitRight: { label: "Orbit right", key: "ArrowRight", group: "Camera" },
  orbitUp: { label: "Orbit up", key: "ArrowUp", group: "Camera" },
  orbitDown: { label: "Orbit down", key: "ArrowDown", group: "Camera" },
  panLeft: { label: "Pan left", key: "ArrowLeft", shift: true, group: "Camera" },
  panRight: { label: "Pan right", key: "ArrowRight", shift: true, group: "Camera" },
  panUp: { label: "Pan up", key: "ArrowUp", shift: true, group: "Camera" },
  panDown: { label: "Pan down", key: "ArrowDown", shift: true, group: "Camera" },
  zoomIn: { label: "Zoom in", key: "+", group: "Camera" },
  zoomOut: { label: "Zoom out", key: "-", group: "Camera" },

  nextFinding: { label: "Next finding", key: "N", group: "Find" },
  previousFinding: { label: "Previous finding", key: "N", shift: true, group: "Find" },
  nextPart: { label: "Next part", key: "T", group: "Find" },
  previousPart: { label: "Previous part", key: "T", shift: true, group: "Find" },
  goToLine: { label: "Go to the line of the lit part or finding", key: "Enter", group: "Find" },
  unlight: { label: "Light nothing", key: "Escape", group: "Find" },

  export: { label: "Export", key: "E", group: "Piece" },
  report: { label: "Show report", key: "R", group: "Piece" },
  chooseWearer: { label: "Choose wearer", key: "A", group: "Piece" },
  choosePrinter: { label: "Choose printer", key: "J", group: "Piece" },
  chooseMaterial: { label: "Choose material", key: "K", group: "Piece" },
  writeValues: { label: "Write values into file", key: "V", group: "Piece" },
  resetValues: { label: "Reset values to the file's", key: "Z", group: "Piece" },
  build: { label: "Build again", key: "G", group: "Piece" },
  cancel: { label: "Cancel the build", key: "C", group: "Piece" },
  problems: { label: "Show problems", key: "O", group: "Piece" },
  compare: { label: "Compare with a commit", key: "V", shift: true, group: "Piece" },
  endComparison: { label: "End the comparison", key: "Q", shift: true, group: "Piece" },

  savePicture: { label: "Save picture", key: "S", group: "This view" },
  lock: { label: "Stay on this design", key: "L", group: "This view" },
  details: { label: "Details beside the picture", key: "I", group: "This view" },
  help: { label: "Keys", key: "?", group: "This view" },
} as const satisfies Record<string, ActionFacts>;

export type ActionId = keyof typeof table;

export const actions: Readonly<Record<ActionId, ActionFacts>> = table;

export const actionIds = Object.keys(table) as ActionId[];

/** The action of a key press, as far as it has one. */
export interface KeyPress {
  readonly key: string;
  readonly code?: string;
  readonly shiftKey: boolean;
  readonly ctrlKey: boolean;
  readonly altKey: boolean;
  readonly metaKey: boolean;
}

/**
 * The action of a key. Digits also count where a layout has them over Shift, and signs whether or not they need it;
 * anything with Ctrl, Alt or Cmd belongs to the editor.
 */
export function actionOf(press: KeyPress): ActionId | undefined {
  if (press.ctrlKey || press.altKey || press.metaKey) return undefined;
  const digit = /^(?:Digit|Numpad)([1-6])$/.exec(press.code ?? "")?.[1];
  const typed = press.key.length === 1 ? press.key.toUpperCase() : press.key;
  const key = typed === "=" ? "+" : typed === "_" || typed === "−" ? "-" : typed;
  const found = actionIds.find((id) => {
    const action = actions[id];
    if (action.key !== key) return false;
    return isSign(key) || (action.shift === true) === press.shiftKey;
  });
  if (found !== undefined) return found;
  return digit === undefined ? undefined : actionIds.find((id) => actions[id].key === digit);
}

/** Signs that some layouts have over Shift. */
const isSign = (key: string): boolean => key.length === 1 && !/[\p{L}]/u.test(key);

/** The key as it is shown: "Shift+N", "←". */
export function keyText(id: ActionId): string {
  const { key, shift } = actions[id];
  const shown: Record<string, string> = {
    ArrowLeft: "←",
    ArrowRight: "→",
    ArrowUp: "↑",
    ArrowDown: "↓",
    "-": "−",
    Escape: "Esc",
    PageUp: "Page Up",
    PageDown: "Page Down",
  };
  return `${shift === true ? "Shift+" : ""}${shown[key] ?? key}`;
}

/** The key as `aria-keyshortcuts` wants it: WAI-ARIA 1.2, names of keys from UI Events. */
export function ariaKey(id: ActionId): string {
  const { key, shift } = actions[id];
  return `${shift === true ? "Shift+" : ""}${key === "+" ? "Plus" : key}`;
}
