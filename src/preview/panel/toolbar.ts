import type { ViewSettings } from "../pieceView";
import type { ActionId } from "./actions";
import { actions, ariaKey, keyText } from "./actions";
import { make, roving, setAttribute } from "./dom";
import type { IconName } from "./icons";
import { icon } from "./icons";
import { makeMenu } from "./menu";

export interface ToolbarState {
  readonly settings: ViewSettings;
  readonly isLocked: boolean;
  readonly isSideOpen: boolean;
  /** There is a picture whose view can be changed. */
  readonly hasPicture: boolean;
  /** What the checks of fit and wear told so far can be shown. */
  readonly hasField: boolean;
  readonly hasBalance: boolean;
  readonly hasWay: boolean;
  readonly isWayOpen: boolean;
  /** Where the plate stands is known. */
  readonly hasPlate: boolean;
  /** How the piece is printed is known. */
  readonly hasPlan: boolean;
  /** The piece is seen on the plate. */
  readonly isOnPlate: boolean;
}

export const viewActions = [
  "viewFront",
  "viewBack",
  "viewLeft",
  "viewRight",
  "viewTop",
  "viewPlate",
] as const;
export const showActions = [
  "plateView",
  "overhang",
  "head",
  "plate",
  "dimensions",
  "wire",
  "marks",
  "field",
  "balance",
  "wayOn",
] as const;

const viewWords: Record<(typeof viewActions)[number], string> = {
  viewFront: "Front",
  viewBack: "Back",
  viewLeft: "Left",
  viewRight: "Right",
  viewTop: "Top",
  viewPlate: "Plate",
};

/** The buttons of the toolbar beside the views, with their icons; those with `isPressed` are on or off. */
const buttons: readonly {
  readonly id: ActionId;
  readonly icon: IconName;
  readonly isPressed?: (state: ToolbarState) => boolean;
  /** Of use without a picture too. */
  readonly isAlwaysOfUse?: true;
  /** There is something for it in the picture; absent: there always is. */
  readonly isOfUse?: (state: ToolbarState) => boolean;
}[] = [
  { id: "frame", icon: "frame" },
  { id: "projection", icon: "parallel", isPressed: ({ settings }) => settings.projection === "parallel" },
  {
    id: "plateView",
    icon: "plateView",
    isPressed: ({ isOnPlate }) => isOnPlate,
    isOfUse: ({ hasPlate, settings }) => hasPlate || settings.isPlateView,
  },
  {
    id: "overhang",
    icon: "overhang",
    isPressed: ({ isOnPlate, settings }) => isOnPlate && settings.isOverhangShown,
    isOfUse: ({ hasPlan }) => hasPlan,
  },
  { id: "head", icon: "head", isPressed: ({ isOnPlate, settings }) => !isOnPlate && settings.isHeadShown },
  { id: "plate", icon: "plate", isPressed: ({ settings }) => settings.isPlateShown },
  { id: "dimensions", icon: "dimensions", isPressed: ({ settings }) => settings.areDimensionsShown },
  { id: "wire", icon: "wire", isPressed: ({ settings }) => settings.isWireShown },
  { id: "marks", icon: "marks", isPressed: ({ settings }) => settings.areFindingsShown },
  {
    id: "field",
    icon: "field",
    isPressed: ({ isOnPlate, settings }) => !isOnPlate && settings.isFieldShown,
    isOfUse: ({ hasField, settings }) => hasField || settings.isFieldShown,
  },
  {
    id: "balance",
    icon: "balance",
    isPressed: ({ isOnPlate, settings }) => !isOnPlate && settings.isBalanceShown,
    isOfUse: ({ hasBalance, settings }) => hasBalance || settings.isBalanceShown,
  },
  {
    id: "wayOn",
    icon: "wayOn",
    isPressed: ({ isWayOpen }) => isWayOpen,
    isOfUse: ({ hasWay }) => hasWay,
  },
  {
    id: "section",
    icon: "section",
    isPressed: ({ isOnPlate, settings }) => !isOnPlate && settings.section !== undefined,
    isOfUse: ({ isOnPlate }) => !isOnPlate,
  },
  { id: "savePicture", icon: "picture" },
  { id: "lock", icon: "lock", isPressed: ({ isLocked }) => isLocked, isAlwaysOfUse: true },
  { id: "help", icon: "help", isAlwaysOfUse: true },
  { id: "details", icon: "details", isPressed: ({ isSideOpen }) => isSideOpen, isAlwaysOfUse: true },
];

/** Every action that has a button of its own. */
export const toolbarActions: readonly ActionId[] = [...viewActions, ...buttons.map(({ id }) => id)];

/**
 * The toolbar over the picture: one tab stop, walked with the arrow keys. Where there is little room, the views and
 * what is shown fold into a menu each; the style sheet decides which of both is seen.
 */
export function makeToolbar(perform: (id: ActionId) => void): {
  readonly element: HTMLElement;
  update(state: ToolbarState): void;
} {
  const viewButtons = viewActions.map((id) => tool(id, viewWords[id]));
  const made = new Map(buttons.map((button) => [button.id, tool(button.id, icon(button.icon))]));
  const of = (...ids: readonly ActionId[]) => ids.map((id) => made.get(id) as HTMLButtonElement);
  const viewMenu = makeMenu({
    id: "views-menu",
    label: "Views",
    icon: "views",
    items: viewActions,
    areToggles: false,
    perform,
  });
  const showMenu = makeMenu({
    id: "show-menu",
    label: "Show",
    icon: "show",
    items: showActions,
    areToggles: true,
    perform,
  });
  const element = make(
    "div",
    { id: "toolbar", class: "toolbar", attributes: { role: "toolbar", "aria-label": "Preview" } },
    group("Views", "views-wide", ...viewButtons),
    group("Views", "views-narrow", viewMenu.element),
    group("Camera", "", ...of("frame", "projection")),
    group("Show", "show-wide", ...of(...showActions)),
    group("Show", "show-narrow", showMenu.element),
    group("Section", "", ...of("section")),
    make("div", { class: "toolbar-space" }),
    group("This view", "last", ...of("savePicture", "lock", "help", "details")),
  );
  element.addEventListener("click", (event) => {
    const button = (event.target as Element).closest("button[data-action]");
    if (button === null || button.getAttribute("aria-disabled") === "true") return;
    perform(button.getAttribute("data-action") as ActionId);
  });
  const walk = roving(element, ".tool", "across");
  new ResizeObserver(() => walk.refresh()).observe(element);

  return {
    element,
    update(state) {
      for (const { id, isPressed, isAlwaysOfUse, isOfUse } of buttons) {
        const button = made.get(id) as HTMLButtonElement;
        if (isPressed !== undefined) setAttribute(button, "aria-pressed", String(isPressed(state)));
        const isUseful = state.hasPicture && (isOfUse?.(state) ?? true);
        setAttribute(button, "aria-disabled", isUseful || isAlwaysOfUse ? undefined : "true");
      }
      for (const button of viewButtons) {
        setAttribute(button, "aria-disabled", state.hasPicture ? undefined : "true");
      }
      for (const button of element.querySelectorAll(".menu-button")) {
        (button as HTMLButtonElement).disabled = !state.hasPicture;
      }
      const pressed = new Map(buttons.map((button) => [button.id, button.isPressed?.(state) ?? false]));
      showMenu.update((id) => pressed.get(id) ?? false);
      made.get("lock")?.replaceChildren(icon(state.isLocked ? "lock" : "unlock"));
    },
  };
}

function tool(id: ActionId, content: string | SVGSVGElement): HTMLButtonElement {
  const { label } = actions[id];
  return make(
    "button",
    {
      id: `tool-${id}`,
      class: typeof content === "string" ? "tool tool-word" : "tool",
      title: `${label} (${keyText(id)})`,
      attributes: {
        type: "button",
        tabindex: -1,
        "data-action": id,
        "aria-label": label,
        "aria-keyshortcuts": ariaKey(id),
      },
    },
    content,
  );
}

const group = (label: string, name: string, ...children: HTMLElement[]): HTMLElement =>
  make(
    "div",
    { class: `tool-group ${name}`, attributes: { role: "group", "aria-label": label } },
    ...children,
  );
