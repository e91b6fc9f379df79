import type { Command } from "./command";

/** The help of all commands, or of one. */
export function helpText(commands: readonly Command[], command?: Command): string {
  return command ? commandHelp(command) : overview(commands);
}

function overview(commands: readonly Command[]): string {
  const rows = commands.map(({ name, operand, summary }) => [`anadem ${name} ${operand}`, summary]);
  return [
    "Anadem: headpieces as code, for one particular head.",
    "",
    ...table([...rows, ["anadem --version", "tells the version"]]),
    "",
    "anadem COMMAND --help tells the options of a command.",
    "Exit code: 0 good, 1 the design or its check has errors, 2 wrong use.",
  ].join("\n");
}

function commandHelp({ name, operand, summary, options }: Command): string {
  const rows = Object.entries(options).map(([option, { value, help, repeats }]) => [
    `--${option}${value ? ` ${value}` : ""}${repeats ? " …" : ""}`,
    help,
  ]);
  return [`anadem ${name} ${operand} [options]`, "", `  ${summary}`, "", ...table(rows)].join("\n");
}

function table(rows: readonly (readonly string[])[]): string[] {
  const width = Math.max(...rows.map(([first]) => first.length));
  return rows.map(([first, second]) => `  ${first.padEnd(width)}  ${second}`);
}
