import type { ParameterDeclaration } from "../../design/part";
import type { Message } from "../../message";
import type { Values } from "./designRecord";

/** Those values that differ from what the file says; all of them where that is not known yet. */
export function movedValues(values: Values, declared: readonly ParameterDeclaration[] | undefined): Values {
  if (!declared) return values;
  const presets = new Map(declared.map(({ name, default: preset }) => [name, preset]));
  const moved = Object.entries(values).filter(([name, value]) => presets.get(name) !== value);
  return moved.length === Object.keys(values).length ? values : Object.fromEntries(moved);
}

/** The values without one that a build refused: the file has changed under it. The same object when none was. */
export function meantValues(values: Values, messages: readonly Message[]): Values {
  const names = Object.keys(values);
  const refused = names.filter((name) =>
    messages.some(({ severity, text }) => severity === "error" && text.includes(`parameter "${name}"`)),
  );
  if (refused.length === 0) return values;
  return Object.fromEntries(Object.entries(values).filter(([name]) => !refused.includes(name)));
}
