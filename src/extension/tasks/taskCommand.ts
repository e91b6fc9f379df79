/** A task as tasks.json describes it: a build by the command line. Paths start from the workspace folder. */
export interface TaskDescription {
  readonly type: "anadem";
  readonly command: "build";
  readonly design: string;
  readonly wearer?: string;
  readonly printer?: string;
  readonly material?: string;
  readonly print?: string;
  /** Values of parameters, by name. */
  readonly values?: Readonly<Record<string, number | string | boolean>>;
  /** Folder for what is made. */
  readonly out?: string;
  /** Also writes the report that is kept beside the design. */
  readonly report?: boolean;
  /** Writes nothing, compares with the report that is kept beside the design. */
  readonly check?: boolean;
}

/** Lines of the command line that name a place: `file:line:column: error: text`. The manifest's problem matcher is this one. */
export const problemPattern = "^(\\S.*?):(\\d+):(\\d+): (error|warning|note): (.*)$";

const texts = ["wearer", "printer", "material", "print", "out"] as const;
const flags = ["report", "check"] as const;

/** What a person wrote in tasks.json as a task; undefined where it cannot be run. */
export function taskOf(written: Readonly<Record<string, unknown>>): TaskDescription | undefined {
  const { type, command, design, values } = written;
  if (type !== "anadem" || command !== "build" || typeof design !== "string" || design === "")
    return undefined;
  const isText = (key: string) => written[key] === undefined || typeof written[key] === "string";
  const isFlag = (key: string) => written[key] === undefined || typeof written[key] === "boolean";
  if (!texts.every(isText) || !flags.every(isFlag) || !areValues(values)) return undefined;
  return written as unknown as TaskDescription;
}

function areValues(values: unknown): boolean {
  if (values === undefined) return true;
  if (typeof values !== "object" || values === null || Array.isArray(values)) return false;
  return Object.values(values).every((value) => ["number", "string", "boolean"].includes(typeof value));
}

/** The words after `anadem` that run a task. */
export function wordsOf(task: TaskDescription): string[] {
  const words: string[] = [task.command];
  for (const key of texts) {
    const value = task[key];
    if (value !== undefined) words.push(`--${key}=${value}`);
  }
  for (const [name, value] of Object.entries(task.values ?? {})) words.push(`--set=${name}=${value}`);
  for (const key of flags) if (task[key]) words.push(`--${key}`);
  // A design whose name begins with a dash is still a file.
  return [...words, "--", task.design];
}

/** What a task is called in lists. */
export function taskName({ design, command, check }: TaskDescription): string {
  return `${check ? "check" : command} ${design.replace(/\.headpiece\.ts$/, "")}`;
}
