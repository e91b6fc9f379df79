import * as vscode from "vscode";
import type { Git } from "../../build/versions/git";
import { type Repository, repositoryOf } from "../../build/versions/repository";
import { MessageError } from "../../message";
import { ago, type Commit, commitOf, commitsTouching, headOf, namedCommits } from "./commits";

interface CommitItem extends vscode.QuickPickItem {
  /** What is asked for; absent: it is to be typed. */
  readonly revision?: string;
}

/**
 * Asks for the commit that a design is compared with: those that touch it or its inputs, branches, tags, or any other.
 * Undefined where none was chosen or there is none, which is told.
 */
export async function pickCommit(
  design: vscode.Uri,
  inputs: Iterable<string>,
  git: string,
): Promise<string | undefined> {
  const { l10n } = vscode;
  let repository: Repository;
  let head: Commit | undefined;
  try {
    repository = await repositoryOf(design.fsPath, git);
    head = await headOf(repository.git);
  } catch (error) {
    if (!(error instanceof MessageError)) throw error;
    const [{ text, suggestion }] = error.messages;
    void vscode.window.showWarningMessage(suggestion === undefined ? text : `${text}: ${suggestion}`);
    return undefined;
  }
  if (!head) {
    void vscode.window.showWarningMessage(
      l10n.t("This repository has no commit yet. Commit the design first."),
    );
    return undefined;
  }
  const picked = await vscode.window.showQuickPick(itemsOf(repository, head, inputs), {
    title: l10n.t("Compare With Commit"),
    placeHolder: l10n.t("The version that the piece of now is compared with"),
    matchOnDescription: true,
    matchOnDetail: true,
  });
  if (!picked) return undefined;
  return picked.revision ?? (await typedRevision(repository.git));
}

async function itemsOf(
  repository: Repository,
  head: Commit,
  inputs: Iterable<string>,
): Promise<CommitItem[]> {
  const { l10n } = vscode;
  const [commits, names] = await Promise.all([
    commitsTouching(repository.git, repository.top, inputs),
    namedCommits(repository.git),
  ]);
  const now = Date.now() / 1000;
  const line = (label: string): CommitItem => ({ label, kind: vscode.QuickPickItemKind.Separator });
  const when = ({ short, seconds }: Pick<Commit, "short" | "seconds">) =>
    `${short} · ${ago(seconds, now, vscode.env.language)}`;
  return [
    {
      label: "$(git-commit) HEAD",
      description: when(head),
      detail: head.subject,
      revision: "HEAD",
    },
    {
      label: `$(edit) ${l10n.t("Another revision…")}`,
      description: l10n.t("a hash, HEAD~2, a tag"),
      alwaysShow: true,
    },
    line(l10n.t("commits that touch the design or its inputs")),
    ...commits.map((commit) => ({
      label: `$(git-commit) ${commit.subject}`,
      description: when(commit),
      revision: commit.short,
    })),
    line(l10n.t("branches and tags")),
    ...names.map((named) => ({
      label: `$(${named.kind === "tag" ? "tag" : "git-branch"}) ${named.name}`,
      description: when(named),
      detail: named.subject,
      revision: named.name,
    })),
  ];
}

async function typedRevision(git: Git): Promise<string | undefined> {
  const { l10n } = vscode;
  const typed = await vscode.window.showInputBox({
    title: l10n.t("Compare With Commit"),
    prompt: l10n.t("A commit as git names it: a hash, a branch, a tag, HEAD~2"),
    placeHolder: "HEAD~1",
    async validateInput(text) {
      if (text.trim() === "") return undefined;
      const found = await commitOf(git, text).catch(() => undefined);
      if (!found) return l10n.t("There is no commit {0} in this repository.", text.trim());
      return {
        message: `${found.short} ${found.subject}`,
        severity: vscode.InputBoxValidationSeverity.Info,
      };
    },
  });
  return typed?.trim() || undefined;
}
