import type { BuildStateMessage } from "../protocol";
import type { ActionId } from "./actions";
import { actions, ariaKey, keyText } from "./actions";
import { make, setAttribute, setText } from "./dom";
import type { IconName } from "./icons";
import { icon } from "./icons";
import { foundText } from "./textEquivalent";

/** What the strip says of a build. */
export interface BuildWords {
  readonly icon: IconName | "spinner";
  readonly text: string;
  /** What can be done about it. */
  readonly action?: { readonly id: ActionId; readonly text: string };
}

/** The state of the build in a few words. */
export function buildWords(build: BuildStateMessage | undefined): BuildWords {
  if (build === undefined) return { icon: "clock", text: "Waiting for a design" };
  const found = foundText(build.messages);
  switch (build.phase) {
    case "idle":
      return { icon: "clock", text: "Not built yet", action: { id: "build", text: "Build" } };
    case "building": {
      const percent = build.share === undefined ? "" : ` · ${Math.round(build.share * 100)} %`;
      return {
        icon: "spinner",
        text: `${build.stage === undefined || build.stage === "" ? "Building" : upperFirst(build.stage)}${percent}`,
        action: { id: "cancel", text: "Cancel" },
      };
    }
    case "ready":
      return build.isOutdated
        ? { icon: "clock", text: "Out of date", action: { id: "build", text: "Build" } }
        : {
            icon: build.messages.some((message) => message.severity !== "note") ? "warning" : "check",
            text: found === "" ? "Built" : `Built · ${found}`,
          };
    case "failed":
      return {
        icon: "error",
        text: found === "" ? "Build failed" : `Build failed · ${found}`,
        action: { id: "problems", text: "Show Problems" },
      };
    case "cancelled":
      return { icon: "clock", text: "Build cancelled", action: { id: "build", text: "Build" } };
  }
}

/** The strip below the picture: how the build stands, and the first caution, which is never out of sight. */
export function makeBuildStrip(events: { perform(id: ActionId): void; showCautions(): void }): {
  readonly element: HTMLElement;
  update(build: BuildStateMessage | undefined, cautions: readonly string[]): void;
} {
  const sign = make("span", { class: "build-sign" });
  const text = make("span", { id: "build-text", class: "build-text" });
  const action = make("button", {
    id: "build-action",
    class: "link build-action",
    attributes: { type: "button" },
  });
  const caution = make("button", {
    id: "caution-line",
    class: "caution-line",
    attributes: { type: "button" },
  });
  const element = make(
    "footer",
    { id: "build-strip", class: "build-strip" },
    make("div", { class: "build-state" }, sign, text, action),
    caution,
  );
  let shownIcon = "";
  action.addEventListener("click", () => {
    const id = action.dataset.action;
    if (id !== undefined) events.perform(id as ActionId);
  });
  caution.addEventListener("click", () => events.showCautions());

  return {
    element,
    update(build, cautions) {
      const words = buildWords(build);
      if (words.icon !== shownIcon) {
        shownIcon = words.icon;
        sign.className = `build-sign is-${words.icon}`;
        sign.replaceChildren(
          words.icon === "spinner" ? make("span", { class: "spinner" }) : icon(words.icon),
        );
      }
      setText(text, words.text);
      element.dataset.phase = build?.phase ?? "idle";
      action.hidden = words.action === undefined;
      if (words.action !== undefined) {
        const { id } = words.action;
        setText(action, words.action.text);
        action.dataset.action = id;
        action.title = `${actions[id].label} (${keyText(id)})`;
        setAttribute(action, "aria-keyshortcuts", ariaKey(id));
      }
      caution.hidden = cautions.length === 0;
      if (cautions.length === 0) return;
      setText(caution, cautions[0]);
      caution.title = cautions.join("\n");
      const more = cautions.length - 1;
      setAttribute(
        caution,
        "aria-label",
        more > 0 ? `Take care: ${cautions[0]} Show ${more} more.` : `Take care: ${cautions[0]}`,
      );
    },
  };
}

/** A thin bar at the top of the picture while a build goes on. */
export function makeProgressBar(): {
  readonly element: HTMLElement;
  update(build: BuildStateMessage | undefined): void;
} {
  const bar = make("div", { class: "progress-bar" });
  const element = make(
    "div",
    {
      id: "progress",
      class: "progress",
      attributes: {
        role: "progressbar",
        "aria-label": "Build",
        "aria-valuemin": 0,
        "aria-valuemax": 100,
        hidden: true,
      },
    },
    bar,
  );
  return {
    element,
    update(build) {
      element.hidden = build?.phase !== "building";
      const share = build?.share;
      element.classList.toggle("is-unknown", share === undefined);
      setAttribute(
        element,
        "aria-valuenow",
        share === undefined ? undefined : String(Math.round(share * 100)),
      );
      bar.style.setProperty("width", share === undefined ? "" : `${share * 100}%`);
    },
  };
}

const upperFirst = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
