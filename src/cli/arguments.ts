import { didYouMean } from "../nearestName";
import { type Command, type OptionValues, UsageError } from "./command";

/** What was asked for on the command line. */
export type Invocation =
  | { readonly kind: "help"; readonly command?: Command }
  | { readonly kind: "version" }
  | {
      readonly kind: "run";
      readonly command: Command;
      readonly operand: string;
      readonly operands: readonly string[];
      readonly options: OptionValues;
    };

/** Reads the words after `anadem`. Throws a `UsageError` that names the word and the nearest known one. */
export function readArguments(words: readonly string[], commands: readonly Command[]): Invocation {
  const [first, ...rest] = words;
  if (first === undefined || first === "--help" || first === "-h" || first === "help") {
    const command = commands.find(({ name }) => name === rest[0]);
    return { kind: "help", ...(command && { command }) };
  }
  if (first === "--version" || first === "-v") return { kind: "version" };
  const command = commands.find(({ name }) => name === first);
  if (!command) {
    const names = commands.map(({ name }) => name);
    throw new UsageError(
      first.startsWith("-") ? `there is no option ${first}` : `there is no command "${first}"`,
      didYouMean(first, names) ?? `the commands are ${names.join(", ")}; see anadem --help`,
    );
  }
  if (rest.includes("--help") || rest.includes("-h")) return { kind: "help", command };
  return { kind: "run", command, ...readOptions(rest, command) };
}

function readOptions(
  words: readonly string[],
  command: Command,
): { operand: string; operands: readonly string[]; options: OptionValues } {
  const options: Record<string, string | boolean | string[]> = {};
  const operands: string[] = [];
  for (let i = 0; i < words.length; i++) {
    const word = words[i];
    if (word === "--") {
      operands.push(...words.slice(i + 1));
      break;
    }
    if (!word.startsWith("-") || word === "-") {
      operands.push(word);
      continue;
    }
    const [name, inline] = splitOnce(word.replace(/^--?/, ""), "=");
    const spec = command.options[name];
    if (!spec || !word.startsWith("--")) {
      const known = Object.keys(command.options);
      throw new UsageError(
        `anadem ${command.name} has no option ${word}`,
        didYouMean(name, known)?.replace(/"(.*)"/, "--$1") ??
          `it has ${known.map((one) => `--${one}`).join(", ")}`,
      );
    }
    if (!spec.value) {
      if (inline !== undefined) throw new UsageError(`--${name} takes no value`, `write --${name} alone`);
      options[name] = true;
      continue;
    }
    const value = inline ?? words[++i];
    if (value === undefined || value === "") {
      throw new UsageError(`--${name} lacks its value`, `write --${name} ${spec.value}`);
    }
    if (!spec.repeats && options[name] !== undefined) {
      throw new UsageError(`--${name} is given twice`, "give it once");
    }
    options[name] = spec.repeats ? [...((options[name] as string[] | undefined) ?? []), value] : value;
  }
  if (!takes(command, operands.length)) {
    throw new UsageError(
      operands.length === 0
        ? `anadem ${command.name} lacks ${command.operand}`
        : `anadem ${command.name} takes one ${command.operand}, not ${operands.length}`,
      `write anadem ${command.name} ${command.operand}`,
    );
  }
  return { operand: operands[0] ?? "", operands, options };
}

const takes = ({ operands = "one" }: { operands?: string }, count: number): boolean =>
  operands === "several" ? count >= 1 : operands === "at most one" ? count <= 1 : count === 1;

/** `"a=b=c"` as `["a", "b=c"]`. */
export function splitOnce(text: string, separator: string): [string, string | undefined] {
  const at = text.indexOf(separator);
  return at < 0 ? [text, undefined] : [text.slice(0, at), text.slice(at + separator.length)];
}
