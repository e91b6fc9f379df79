import * as vscode from "vscode";
import { UNIT_NAME, UNITS, type Unit } from "../../head/units";
import { commandIds } from "../commandIds";
import { fileEndings } from "../designState";
import { checkFileName, fileNameOf } from "./fileNames";
import { askFolder, makeFiles, namesIn } from "./folders";
import { type Answer, askInSteps, askPick, askText, back, type Frame, type Step } from "./steps";
import { tapeText } from "./tapeTexts";
import { refused } from "./verdict";
import {
  type AskedMeasure,
  askedMeasures,
  checkMeasure,
  estimateOf,
  exampleOf,
  lengthTyped,
  type WearerAnswers,
  wearerText,
} from "./wearerAnswers";

type Given = WearerAnswers & { readonly folder: vscode.Uri; readonly file: string };

/**
 * Asks for the measures of a wearer and writes the file; resolves to it, undefined where the person gave up.
 * @param folders where it may go, the likeliest first
 */
export async function askNewWearer(folders: readonly vscode.Uri[]): Promise<vscode.Uri | undefined> {
  const [folder] = folders;
  const steps: Step<Given>[] = [
    askName,
    askUnit((name) => void vscode.commands.executeCommand(commandIds.measureWearer, { name, folders })),
    ...askedMeasures.map(measureStep),
    ...(folders.length > 1 ? [folderStep(folders)] : []),
    askFile,
  ];
  const title = vscode.l10n.t("New wearer");
  const given = await askInSteps<Given>(title, steps, { folder });
  if (!given) return undefined;
  const uri = vscode.Uri.joinPath(given.folder, `${given.file}${fileEndings.wearer}`);
  return (await makeFiles([{ uri, content: wearerText(given) }])) ? uri : undefined;
}

/**
 * Asks where the file of a new wearer goes, and writes it; resolves to it, undefined where the person gave up.
 * @param folders where it may go, the likeliest first
 */
export async function askNewFile(
  name: string,
  content: string,
  folders: readonly vscode.Uri[],
): Promise<vscode.Uri | undefined> {
  const [folder] = folders;
  if (!folder) return undefined;
  const steps: Step<Given>[] = [...(folders.length > 1 ? [folderStep(folders)] : []), askFile];
  const given = await askInSteps<Given>(vscode.l10n.t("New wearer"), steps, { name, folder });
  if (!given) return undefined;
  const uri = vscode.Uri.joinPath(given.folder, `${given.file}${fileEndings.wearer}`);
  return (await makeFiles([{ uri, content }])) ? uri : undefined;
}

const askName: Step<Given> = async ({ name }, frame) => {
  const answer = await askText(frame, {
    prompt: vscode.l10n.t("The wearer's name, as it is to stand in reports: of the person or of the part."),
    placeholder: vscode.l10n.t("Maris, the Kelp Queen"),
    value: name,
    check: (text) => (text.trim() === "" ? refused(vscode.l10n.t("Give a name.")) : undefined),
  });
  return wrap(answer, (text) => ({ name: text.trim() }));
};

const askUnit =
  (guide: (name: string) => void): Step<Given> =>
  async (given, frame) => {
    const units = UNITS.map((unit) => ({ label: unit, description: UNIT_NAME[unit], unit }));
    const withGuide = {
      label: vscode.l10n.t("$(checklist) Measure with the guide…"),
      description: vscode.l10n.t("drawings, and two readings of each"),
      unit: undefined,
    };
    const items: (vscode.QuickPickItem & { readonly unit: Unit | undefined })[] = [...units, withGuide];
    const answer = await askPick(frame, {
      placeholder: vscode.l10n.t("In which unit are the measures taken?"),
      items,
      current: items.find(({ unit }) => unit === (given.unit ?? UNITS[0])),
    });
    if (answer !== undefined && answer !== back && answer.unit === undefined) {
      guide(given.name ?? "");
      return undefined;
    }
    return wrap(answer, ({ unit }) => ({ unit: unit ?? "mm" }));
  };

const measureStep =
  (measure: AskedMeasure): Step<Given> =>
  async (given, frame) => {
    const answers = earlierAnswers(measure, given);
    const { unit } = answers;
    const { title, how } = tapeText(measure, vscode.l10n);
    const answer = await askText(inFrame(frame, title), {
      prompt: how,
      placeholder: placeholderOf(measure, answers),
      value: given[measure],
      check: (text) => checkMeasure(measure, text, answers, vscode.l10n),
    });
    return wrap(answer, (text) => {
      const length = lengthTyped(text, unit);
      return { [measure]: length === undefined ? text.trim() : String(length) };
    });
  };

/** What was answered before a measure: going back must not let later answers speak. */
function earlierAnswers(measure: AskedMeasure, given: Partial<Given>): WearerAnswers & { unit: Unit } {
  const earlier = askedMeasures.slice(0, askedMeasures.indexOf(measure));
  return {
    name: given.name,
    unit: given.unit ?? "mm",
    ...Object.fromEntries(earlier.map((one) => [one, given[one]])),
  };
}

function placeholderOf(measure: AskedMeasure, answers: WearerAnswers): string {
  const { unit } = answers;
  if (measure === "girth") return vscode.l10n.t("{0}, in {1}", exampleOf(measure, unit), unit);
  const estimate = estimateOf(measure, answers);
  return estimate === undefined
    ? vscode.l10n.t("in {0}; leave empty if not measured", unit)
    : vscode.l10n.t("in {0}; leave empty for {1}", unit, estimate);
}

const folderStep =
  (folders: readonly vscode.Uri[]): Step<Given> =>
  async ({ folder }, frame) =>
    wrap(await askFolder(frame, folders, folder), (picked) => ({ folder: picked }));

const askFile: Step<Given> = async ({ name = "", folder, file }, frame) => {
  const taken = folder ? await namesIn(folder) : new Set<string>();
  const isTaken = (stem: string) => taken.has(`${stem}${fileEndings.wearer}`.toLowerCase());
  const answer = await askText(inFrame(frame, vscode.l10n.t("File")), {
    prompt: vscode.l10n.t("The name of its file, without {0}.", fileEndings.wearer),
    value: file ?? fileNameOf(name),
    check: (text) => checkFileName(text, isTaken, vscode.l10n),
  });
  return wrap(answer, (text) => ({ file: text }));
};

const inFrame = (frame: Frame, what: string): Frame => ({ ...frame, title: `${frame.title}: ${what}` });

function wrap<T, R>(answer: Answer<T>, then: (value: T) => R): Answer<R> {
  if (answer === undefined) return undefined;
  return answer === back ? back : then(answer as T);
}
