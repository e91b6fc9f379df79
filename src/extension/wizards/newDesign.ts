import * as vscode from "vscode";
import { fileEndings } from "../designState";
import { readParty } from "../tree/parties";
import type { WorkspaceFiles } from "../tree/workspaceFiles";
import { checkFileName } from "./fileNames";
import { askFolder, makeFiles, namesIn } from "./folders";
import { newDesignFiles } from "./newDesignFiles";
import { askNewWearer } from "./newWearer";
import { askInSteps, askPick, askText, back, type Step } from "./steps";

interface Given {
  readonly folder: vscode.Uri;
  readonly name: string;
  readonly wearer: WearerItem;
}

interface WearerItem extends vscode.QuickPickItem {
  readonly choice?: { readonly file: vscode.Uri } | "new" | "later";
}

/**
 * Asks for what a new design needs and writes its files; resolves to the design, undefined where the person gave up.
 * @param folders where it may go, the likeliest first
 */
export async function askNewDesign(
  folders: readonly vscode.Uri[],
  files: WorkspaceFiles,
): Promise<vscode.Uri | undefined> {
  const wearers = await wearerItems(files);
  const steps: Step<Given>[] = [
    ...(folders.length > 1 ? [folderStep(folders)] : []),
    askName,
    wearerStep(wearers),
  ];
  const given = await askInSteps<Given>(vscode.l10n.t("New design"), steps, { folder: folders[0] });
  if (!given) return undefined;
  const { folder, name } = given;
  const file = await wearerFile(given);
  if (file === undefined) return undefined;
  const wearerPath = file === "later" ? undefined : file.path;
  const made = newDesignFiles(folder.path, name, wearerPath).map(({ path, content }) => ({
    uri: folder.with({ path }),
    content,
  }));
  return (await makeFiles(made)) ? made[0].uri : undefined;
}

/**
 * The wearer's file that was picked, or made now; `later` where one is to be made with the design, undefined where the
 * person gave up making one.
 */
async function wearerFile({ wearer, folder, name }: Given): Promise<vscode.Uri | "later" | undefined> {
  const { choice = "later" } = wearer;
  if (choice === "new") return askNewWearer([folder]);
  if (choice !== "later") return choice.file;
  // A wearer's file of that name is not written over: it is the one that is meant.
  const file = `${name}${fileEndings.wearer}`;
  return (await namesIn(folder)).has(file.toLowerCase()) ? vscode.Uri.joinPath(folder, file) : "later";
}

const folderStep =
  (folders: readonly vscode.Uri[]): Step<Given> =>
  async ({ folder }, frame) => {
    const picked = await askFolder(frame, folders, folder);
    return picked === undefined || picked === back ? picked : { folder: picked };
  };

const askName: Step<Given> = async ({ folder, name }, frame) => {
  const taken = folder ? await namesIn(folder) : new Set<string>();
  const isTaken = (stem: string) => taken.has(`${stem}${fileEndings.design}`.toLowerCase());
  const answer = await askText(frame, {
    prompt: vscode.l10n.t("The name of the design's file, without {0}.", fileEndings.design),
    placeholder: "reed-crown",
    value: name,
    check: (text) => checkFileName(text, isTaken, vscode.l10n),
  });
  return answer === undefined || answer === back ? answer : { name: answer };
};

const wearerStep =
  (items: readonly WearerItem[]): Step<Given> =>
  async ({ wearer }, frame) => {
    const picked = await askPick(frame, {
      placeholder: vscode.l10n.t("Who wears it?"),
      items,
      current: wearer,
    });
    return picked === undefined || picked === back ? picked : { wearer: picked };
  };

async function wearerItems(files: WorkspaceFiles): Promise<WearerItem[]> {
  const wearers = await files.list("wearer");
  const known = await Promise.all(
    wearers.map(async (file): Promise<WearerItem[]> => {
      const { name, detail } = await readParty("wearer", file, files);
      if (name === undefined) return [];
      const path = vscode.workspace.asRelativePath(file);
      return [{ label: `$(account) ${name}`, description: detail, detail: path, choice: { file } }];
    }),
  );
  return [
    ...known.flat(),
    ...(known.length > 0 ? [{ label: "", kind: vscode.QuickPickItemKind.Separator }] : []),
    {
      label: `$(add) ${vscode.l10n.t("New Wearer…")}`,
      description: vscode.l10n.t("measured now"),
      choice: "new",
    },
    {
      label: `$(circle-outline) ${vscode.l10n.t("Measure Later")}`,
      description: vscode.l10n.t("begins with a head of mean size"),
      choice: "later",
    },
  ];
}
