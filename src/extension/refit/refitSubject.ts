import { createHash } from "node:crypto";
import { dirname } from "node:path";
import * as vscode from "vscode";
import type { Scope } from "../../pages/refitTable/protocol";
import { isDesign } from "../builds/workspaceDesigns";
import type { Designs } from "../designState";
import { setting } from "../settings/settings";
import { ownFile } from "../tree/parties";
import type { WorkspaceFiles } from "../tree/workspaceFiles";
import type { DesignPlan } from "./knownRows";
import type { DesignTerms } from "./refitRequests";

/** The designs of a table and all wearers of the workspace, each design's own first. */
export async function plansOf(
  scope: Scope,
  design: vscode.Uri | undefined,
  files: WorkspaceFiles,
): Promise<DesignPlan[]> {
  const [designs, wearers] = await Promise.all([
    scope === "all" ? files.list("design") : design ? [design] : [],
    files.list("wearer"),
  ]);
  const all = wearers.filter(({ scheme }) => scheme === "file").map(({ fsPath }) => fsPath);
  return Promise.all(
    designs.filter(isDesign).map(async (uri) => {
      const own = (await ownWearer(uri, files))?.fsPath;
      const others = all.filter((path) => path !== own);
      return { design: uri.fsPath, wearers: own === undefined ? others : [own, ...others] };
    }),
  );
}

/** The wearer that the saved text of a design names. */
export const ownWearer = (design: vscode.Uri, files: WorkspaceFiles): Promise<vscode.Uri | undefined> =>
  ownFile({ uri: design, header: undefined }, "wearer", files);

/**
 * What holds for a design beside its files: what the person chose for it, and the settings.
 * @param storage where rows are kept; designs of different folders may have one name
 */
export function termsOf(design: string, designs: Designs, storage: vscode.Uri | undefined): DesignTerms {
  const uri = vscode.Uri.file(design);
  const { printer, material, print } = designs.state(uri).chosen;
  const place = createHash("sha256").update(dirname(design)).digest("hex").slice(0, 12);
  return {
    ...(storage && { folder: vscode.Uri.joinPath(storage, "refit", place).fsPath }),
    ...(printer && { printer: printer.fsPath }),
    ...(material && { material: material.fsPath }),
    ...(print && { print: print.fsPath }),
    timeLimitSeconds: setting("timeLimit", uri),
    memoryLimitMB: setting("memoryLimit", uri),
  };
}
