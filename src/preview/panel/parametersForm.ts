import type { ParameterValue } from "../../design/part";
import { actions, ariaKey, keyText } from "./actions";
import { make } from "./dom";
import type { ParameterControl } from "./parameterControl";
import { makeParameterControl } from "./parameterControl";
import type { ParameterState } from "./parameterValues";
import { differences, fileValue, shownValue } from "./parameterValues";

export interface ParametersFormEvents {
  change(name: string, value: ParameterValue): void;
  write(): void;
  reset(): void;
}

/** The parameters of a design as controls, with the buttons that write them into the file or take them back. */
export function makeParametersForm(events: ParametersFormEvents): {
  readonly element: HTMLElement;
  update(state: ParameterState): void;
} {
  const controls = make("div", { class: "parameters" });
  const write = formButton("writeValues", "Write into File", "button");
  const reset = formButton("resetValues", "Reset", "button is-secondary");
  const element = make(
    "div",
    { id: "parameters" },
    controls,
    make("div", { class: "button-row" }, write, reset),
  );
  write.addEventListener("click", () => events.write());
  reset.addEventListener("click", () => events.reset());
  let declared = "";
  let made = new Map<string, ParameterControl>();

  return {
    element,
    update(state) {
      const declarations = JSON.stringify(state.declarations);
      // The controls are made anew only where the declarations changed: a slider under the hand stays.
      if (declarations !== declared) {
        declared = declarations;
        made = new Map(
          state.declarations.map((declaration) => [
            declaration.name,
            makeParameterControl(declaration, (value) => events.change(declaration.name, value)),
          ]),
        );
        controls.replaceChildren(...[...made.values()].map((control) => control.element));
      }
      for (const [name, control] of made) control.update(shownValue(state, name), fileValue(state, name));
      const isSame = Object.keys(differences(state)).length === 0;
      write.disabled = isSame;
      reset.disabled = isSame;
    },
  };
}

const formButton = (id: "writeValues" | "resetValues", text: string, name: string): HTMLButtonElement =>
  make("button", {
    id: `button-${id}`,
    class: name,
    text,
    title: `${actions[id].label} (${keyText(id)})`,
    attributes: { type: "button", "aria-keyshortcuts": ariaKey(id) },
  });
