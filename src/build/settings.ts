import type { ParameterDeclaration, ParameterValue } from "../design/part";
import { type Message, MessageError } from "../message";
import { didYouMean } from "../nearestName";

/**
 * Values of parameters as a person types them, `name → text`, as the kinds that the design declares. Limits are left
 * to the design. Throws a `MessageError` for an unknown name or a text that is no such value.
 */
export function valuesFromTexts(
  declarations: readonly ParameterDeclaration[],
  texts: Readonly<Record<string, string>>,
): Record<string, ParameterValue> {
  return Object.fromEntries(
    Object.entries(texts).map(([name, text]) => {
      const declaration = declarations.find((one) => one.name === name);
      if (!declaration) throw new MessageError([unknownParameter(name, declarations)]);
      return [name, valueFromText(declaration, text.trim())];
    }),
  );
}

function valueFromText({ name, kind }: ParameterDeclaration, text: string): ParameterValue {
  if (kind === "choice") return text;
  if (kind === "toggle") {
    if (/^(true|on|yes)$/i.test(text)) return true;
    if (/^(false|off|no)$/i.test(text)) return false;
    throw wrongValue(name, text, "true or false");
  }
  const bare = text.replace(kind === "length" ? /\s*mm$/i : /\s*(°|deg)$/i, "");
  const value = Number(bare);
  if (bare !== "" && Number.isFinite(value)) return value;
  throw wrongValue(name, text, kind === "length" ? "a length in mm" : "a number");
}

const wrongValue = (name: string, text: string, wanted: string) =>
  new MessageError([
    {
      id: "wrong-value",
      severity: "error",
      text: `parameter "${name}" is "${text}"`,
      suggestion: `give ${wanted}`,
    },
  ]);

function unknownParameter(name: string, declarations: readonly ParameterDeclaration[]): Message {
  const names = declarations.map((declaration) => declaration.name);
  const known = names.length > 0 ? `it has ${names.join(", ")}` : "it has none";
  return {
    id: "unknown-parameter",
    severity: "error",
    text: `the design has no parameter "${name}"`,
    suggestion: didYouMean(name, names) ?? known,
  };
}
