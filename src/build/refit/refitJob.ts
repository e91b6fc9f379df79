import type { ParameterValue } from "../../design/part";
import type { Report } from "../../export/report";
import { type Message, MessageError } from "../../message";
import { type Build, Engine, type EngineFiles } from "../engine";
import { finishedOf } from "../finishedFiles";
import type { OutputFile } from "../outputs";
import { type PartyFiles, partyFiles } from "../parties";
import type { OpenTexts } from "../sourceTexts";
import { inputsAsRead, type KeptRow } from "./keptRow";
import { makeRowPiece } from "./makeRowPiece";
import type { RefitRow } from "./refitRow";
import { failedRow } from "./rowOfPiece";
import { type RowPlace, rowFolder } from "./rowPlaces";
import { writeRow } from "./writeRow";

/** One design on one wearer, to be made. Paths are absolute. */
export interface RefitJob extends PartyFiles {
  readonly design: string;
  /** Where no `wearer` is given and the design names none either. */
  readonly wearerIfNone?: string;
  readonly values?: Readonly<Record<string, ParameterValue>>;
  readonly texts?: OpenTexts;
  readonly timeLimitSeconds?: number;
  readonly memoryLimitMB?: number;
  readonly isCut?: boolean;
  /** With all that `anadem build` makes of a piece. */
  readonly whole?: boolean;
  readonly pictures?: boolean;
  /** Where its files go; without one nothing is written. */
  readonly place?: RowPlace;
  /** Stands for the tool and what is asked of it: kept with the row. */
  readonly asked: string;
}

export interface RefitJobResult {
  /** Without `changes`. */
  readonly row: RefitRow;
  /** Absent where it came to no piece. */
  readonly report?: Report;
  /** Whether the design could be asked whom it is for; when not, it fails on every wearer. */
  readonly isDesign: boolean;
  /** The wearer that the design names. */
  readonly ownWearer?: string;
}

/** The engine of this process: made with its first job, kept for the next. */
let engine: Engine | undefined;

/** Makes one row: builds, judges and plans the piece, and writes its files where it passes. */
export async function doRefitJob(job: RefitJob, files: EngineFiles): Promise<RefitJobResult> {
  engine ??= new Engine(files, { keepWarm: true });
  const since = Date.now();
  try {
    const { build, wearer } = await built(engine, job);
    return await judged(engine, job, build, wearer, since);
  } finally {
    // What is kept of a piece is of no use to the same design on another head.
    engine.forget(job.design);
  }
}

async function judged(
  engine: Engine,
  job: RefitJob,
  build: Build,
  wearer: string,
  since: number,
): Promise<RefitJobResult> {
  const { design } = job;
  const { header } = build;
  const ownWearer = header && partyFiles(design, header, {}).wearer;
  const about = { isDesign: header !== undefined, ...(ownWearer !== undefined && { ownWearer }) };
  const names = {
    ...(header && { headpiece: header.name }),
    ...(build.parties && { wearer: build.parties.wearer.name }),
  };
  const inputs = [...new Set(build.inputs)];
  const failed = (messages: readonly Message[]) => failedRow(design, wearer, names, messages, inputs);
  const keep = (row: RefitRow, files: readonly OutputFile[], report?: Report) =>
    written(job, row, files, { since, ...about, ...(report && { report }) });
  const finished = finishedOf(design, build);
  try {
    // A solid that is not good is so the next time too; what ended for want of time or memory may not.
    if (!finished) {
      const row = failed(build.messages);
      return { ...about, row: build.solid ? await keep(row, []) : row };
    }
    const { report, figures, files } = makeRowPiece(await engine.kernel(), finished, job);
    const { messages } = build;
    const row: RefitRow = { design, wearer, ...figures, messages, files: [], inputs, kept: false };
    return { ...about, row: await keep(row, files, report), report };
  } catch (error) {
    if (!(error instanceof MessageError)) throw error;
    return { ...about, row: failed([...build.messages, ...error.messages]) };
  }
}

interface Background extends Pick<KeptRow, "ownWearer" | "report"> {
  /** When the inputs began to be read, ms since 1970. */
  readonly since: number;
}

/**
 * Writes a row, where it has a place, and tells it with its files.
 * @throws MessageError naming the file that cannot be written
 */
async function written(
  { place, texts, asked }: RefitJob,
  row: RefitRow,
  files: readonly OutputFile[],
  { since, ownWearer, report }: Background,
): Promise<RefitRow> {
  if (!place) return row;
  const hashes = inputsAsRead(row.inputs, since, texts);
  const kept: Omit<KeptRow, "files"> = {
    asked,
    ...(ownWearer !== undefined && { ownWearer }),
    inputs: hashes ?? {},
    row,
    ...(report && { report }),
  };
  return { ...row, files: await writeRow(rowFolder(place, row.wearer), files, kept, hashes !== undefined) };
}

/** Thrown where a design names no wearer and another one is to be taken. */
class NamesNobody extends Error {}

/** The build of a job, and the wearer it is for. */
async function built(engine: Engine, job: RefitJob): Promise<{ build: Build; wearer: string }> {
  const { wearer, wearerIfNone } = job;
  const build = async (party: Pick<PartyFiles, "wearer">, mayBeNobody: boolean): Promise<Build> => {
    const request = {
      design: job.design,
      ...party,
      ...(job.printer !== undefined && { printer: job.printer }),
      ...(job.material !== undefined && { material: job.material }),
      ...(job.print !== undefined && { print: job.print }),
      ...(job.values && { values: job.values }),
      ...(job.texts && { texts: job.texts }),
      ...(job.timeLimitSeconds !== undefined && { timeLimitSeconds: job.timeLimitSeconds }),
      ...(job.memoryLimitMB !== undefined && { memoryLimitMB: job.memoryLimitMB }),
      onDesigned: ({ header }: Pick<Build, "header">) => {
        if (!mayBeNobody && header && header.wearer === undefined) throw new NamesNobody();
      },
    };
    const made = await engine.build(request);
    // A process that ended under the design, by whatever hand: once more.
    const isEnded = made.messages.some(({ id }) => id === "design-process-ended");
    return isEnded ? engine.build(request) : made;
  };
  if (wearer !== undefined) return { build: await build({ wearer }, true), wearer };
  try {
    const made = await build({}, wearerIfNone === undefined);
    const own = made.header && partyFiles(job.design, made.header, {}).wearer;
    return { build: made, wearer: own ?? wearerIfNone ?? "" };
  } catch (error) {
    if (!(error instanceof NamesNobody) || wearerIfNone === undefined) throw error;
    return { build: await build({ wearer: wearerIfNone }, true), wearer: wearerIfNone };
  }
}
