import type { ParameterDeclaration, ParameterValue } from "../../design/part";
import { make, setAttribute, setText } from "./dom";
import { icon } from "./icons";
import { labelOf, problemOf, sliderRange } from "./parameterValues";

export interface ParameterControl {
  readonly element: HTMLElement;
  update(value: ParameterValue, fileValue: ParameterValue): void;
}

/** The control of one parameter, by its kind; `change` is called with every value that is allowed. */
export function makeParameterControl(
  declaration: ParameterDeclaration,
  change: (value: ParameterValue) => void,
): ParameterControl {
  const id = `parameter-${declaration.name}`;
  const helpId = `${id}-help`;
  const describedBy = declaration.help === undefined ? undefined : helpId;
  const inner = innerControl(declaration, id, describedBy, change);
  const back = make("button", { class: "tool parameter-back", attributes: { type: "button" } }, icon("back"));
  const element = make(
    "div",
    { class: "parameter", attributes: { "data-parameter": declaration.name, "data-kind": declaration.kind } },
    make("div", { class: "parameter-head" }, inner.label, back),
    inner.body,
    declaration.help !== undefined &&
      make("p", { id: helpId, class: "parameter-help", text: declaration.help }),
    inner.problem,
  );
  let preset = declaration.default;
  back.addEventListener("click", () => {
    change(preset);
    inner.focus();
  });
  return {
    element,
    update(value, fileValue) {
      preset = fileValue;
      inner.show(value);
      const differs = value !== fileValue;
      element.classList.toggle("is-changed", differs);
      back.hidden = !differs;
      const text = `Back to ${shownValue(declaration, fileValue)}, as in the file`;
      back.title = text;
      setAttribute(
        back,
        "aria-label",
        `${labelOf(declaration.name)}: ${text.charAt(0).toLowerCase()}${text.slice(1)}`,
      );
    },
  };
}

interface Inner {
  readonly label: HTMLElement;
  readonly body?: HTMLElement;
  readonly problem?: HTMLElement;
  show(value: ParameterValue): void;
  focus(): void;
}

function shownValue(declaration: ParameterDeclaration, value: ParameterValue): string {
  if (typeof value === "boolean") return value ? "on" : "off";
  return `${value}${declaration.unit === "mm" ? " mm" : declaration.unit}`;
}

type Change = (value: ParameterValue) => void;

function innerControl(
  declaration: ParameterDeclaration,
  id: string,
  describedBy: string | undefined,
  change: Change,
): Inner {
  if (declaration.kind === "toggle") return toggleControl(declaration, id, describedBy, change);
  if (declaration.kind === "choice") return choiceControl(declaration, id, describedBy, change);
  return numberControl(declaration, id, describedBy, change);
}

const labelFor = (declaration: ParameterDeclaration, id: string) =>
  make("label", {
    class: "parameter-label",
    text: labelOf(declaration.name),
    title: declaration.name,
    attributes: { for: id },
  });

function toggleControl(
  declaration: ParameterDeclaration,
  id: string,
  describedBy: string | undefined,
  change: Change,
): Inner {
  const box = make("input", {
    id,
    class: "checkbox",
    attributes: { type: "checkbox", "aria-describedby": describedBy },
  });
  box.addEventListener("change", () => change(box.checked));
  return {
    label: make("span", { class: "parameter-toggle" }, box, labelFor(declaration, id)),
    show(value) {
      box.checked = value === true;
    },
    focus: () => box.focus(),
  };
}

function choiceControl(
  declaration: ParameterDeclaration,
  id: string,
  describedBy: string | undefined,
  change: Change,
): Inner {
  const select = make(
    "select",
    { id, class: "select", attributes: { "aria-describedby": describedBy } },
    ...(declaration.choices ?? []).map((choice) =>
      make("option", { text: choice, attributes: { value: choice } }),
    ),
  );
  select.addEventListener("change", () => change(select.value));
  return {
    label: labelFor(declaration, id),
    body: make("div", { class: "select-box" }, select, icon("down")),
    show(value) {
      select.value = String(value);
    },
    focus: () => select.focus(),
  };
}

/** A number field, and a slider before it where the declaration has ends. */
function numberControl(
  declaration: ParameterDeclaration,
  id: string,
  describedBy: string | undefined,
  change: Change,
): Inner {
  const range = sliderRange(declaration);
  const { least, most, unit, kind } = declaration;
  const problemId = `${id}-problem`;
  const field = make("input", {
    id,
    class: "text-input number",
    attributes: {
      type: "number",
      min: least,
      max: most,
      step: kind === "count" ? 1 : "any",
      "aria-describedby": [describedBy, problemId].filter((name) => name !== undefined).join(" "),
    },
  });
  const slider =
    range &&
    make("input", {
      id: `${id}-slider`,
      class: "slider",
      attributes: {
        type: "range",
        min: range.least,
        max: range.most,
        step: range.step,
        "aria-label": `${labelOf(declaration.name)}, slider`,
      },
    });
  const problem = make("p", { id: problemId, class: "parameter-problem", attributes: { hidden: true } });
  let shown = Number(declaration.default);

  const tellProblem = (text: string | undefined) => {
    setText(problem, text ?? "");
    problem.hidden = text === undefined;
    setAttribute(field, "aria-invalid", text === undefined ? undefined : "true");
  };
  const paint = () => {
    if (slider === undefined || range === undefined) return;
    slider.valueAsNumber = shown;
    setAttribute(slider, "aria-valuetext", shownValue(declaration, shown));
    slider.style.setProperty("--filled", `${(100 * (shown - range.least)) / (range.most - range.least)}%`);
  };
  field.addEventListener("input", () => {
    const value = field.value.trim() === "" ? Number.NaN : field.valueAsNumber;
    const text = problemOf(declaration, value);
    tellProblem(text);
    if (text !== undefined) return;
    shown = value;
    paint();
    change(value);
  });
  // What was left unfinished goes back to the value that is shown.
  const settle = () => {
    tellProblem(undefined);
    field.value = String(shown);
  };
  field.addEventListener("change", settle);
  field.addEventListener("blur", settle);
  field.addEventListener("keydown", (event) => {
    if (event.key === "Escape") settle();
  });
  slider?.addEventListener("input", () => {
    shown = slider.valueAsNumber;
    field.value = String(shown);
    tellProblem(undefined);
    paint();
    change(shown);
  });

  return {
    label: labelFor(declaration, id),
    body: make(
      "div",
      { class: "number-row" },
      slider,
      make(
        "span",
        { class: "number-box" },
        field,
        unit !== "" && make("span", { class: "unit", text: unit, attributes: { "aria-hidden": "true" } }),
      ),
    ),
    problem,
    show(value) {
      shown = Number(value);
      // A field that is being typed in keeps what is typed, unless it says another valid number.
      if (document.activeElement !== field || field.valueAsNumber !== shown) {
        if (document.activeElement !== field || field.getAttribute("aria-invalid") !== "true")
          field.value = String(shown);
      }
      paint();
    },
    focus: () => field.focus(),
  };
}
