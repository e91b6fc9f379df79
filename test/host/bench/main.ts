import { strict as assert } from "node:assert";
import { cpSync, readFileSync } from "node:fs";
import { it } from "mocha";
import * as vscode from "vscode";
import type { ExtensionApi } from "../../../src/extension/extensionApi";
import type { Drawn } from "../../../src/extension/preview/previewPanel";
import { runTests, tellFigure } from "../mochaRun";
import { api, at, builtAs, open, ours, pause, until } from "../suite/support";

/** Saves that are measured, after some that are not. */
const saves = 30;
const warmingUp = 8;

/** What VS Code calls: measures the wreath's saves in a real editor; see `npm run bench:host`. */
export async function run(): Promise<void> {
  const kind = vscode.env.uiKind === vscode.UIKind.Desktop ? "desktop" : "server";
  const { failed } = await runTests(
    {
      host: `${kind} host: ${vscode.env.appName}, VS Code ${vscode.version}, Node ${process.versions.node}`,
      file: process.env.ANADEM_HOST_RESULTS!,
      say: (line) => console.log(`anadem| ${line}`),
    },
    async () => {
      it("activates", activates);
      it(`${saves} saves of the reed wreath`, measureSaves);
    },
  );
  if (failed > 0) throw new Error("the bench did not come to its end");
}

async function activates(): Promise<void> {
  assert.ok(!ours().isActive, "nothing of ours is open, so nothing has started");
  const began = performance.now();
  await ours().activate();
  tellFigure("activation", performance.now() - began);
}

/** One save, ms from the moment the save is asked for. */
interface Save {
  readonly saved: number;
  readonly draft: number;
  readonly solid: number;
  readonly drawingDraft: number;
  readonly drawingSolid: number;
  readonly busy: number;
  readonly stages: Readonly<Record<string, number>>;
}

async function measureSaves(): Promise<void> {
  cpSync(process.env.ANADEM_SAMPLES!, at(".").fsPath, { recursive: true });
  const design = at("reed-wreath.headpiece.ts");
  const { actions } = await api();
  const editor = await open(design);
  await actions.showPreview(design);
  await builtAs(design, "Reed wreath", 300);
  const text = readFileSync(design.fsPath, "utf8");
  const place = "share * thickness)";
  assert.ok(text.includes(place), "the wreath's reeds have their thickness where it was");
  const measured: Save[] = [];
  for (let i = -warmingUp; i < saves; i++) {
    // One reed of the 66 gets another radius.
    const factor = (1 + 0.01 * (1 + ((i + warmingUp) % 20))).toFixed(2);
    const edited = text.replace(place, `share * thickness * (i === 30 ? ${factor} : 1))`);
    const save = await measureSave(await api(), editor.document, edited);
    if (i >= 0) measured.push(save);
    // As long as a person at least takes from one save to the next.
    await pause(400);
  }
  tellFigure("saves", measured);
}

async function measureSave(
  extension: ExtensionApi,
  document: vscode.TextDocument,
  edited: string,
): Promise<Save> {
  const [preview] = extension.previews;
  const edit = new vscode.WorkspaceEdit();
  edit.replace(document.uri, new vscode.Range(0, 0, document.lineCount, 0), edited);
  await vscode.workspace.applyEdit(edit);
  const before = extension.lastBuild(document.uri.fsPath)!.version;
  const drawn: Partial<Record<Drawn["what"], { at: number; took: number }>> = {};
  const listening = preview.onDidDraw(({ version, what, milliseconds }) => {
    if (version > before) drawn[what] ??= { at: performance.now(), took: milliseconds };
  });
  const busyBefore = extension.hostBusy;
  const began = performance.now();
  await document.save();
  const saved = performance.now() - began;
  await until("the solid is drawn", () => drawn.solid, { seconds: 60 });
  const { status } = await until("the build has ended", () => {
    const state = extension.designs.state(document.uri);
    return state.status === "building" ? undefined : state;
  });
  listening.dispose();
  assert.equal(status, "built");
  return {
    saved,
    draft: (drawn.draft ?? drawn.solid!).at - began,
    solid: drawn.solid!.at - began,
    drawingDraft: drawn.draft?.took ?? 0,
    drawingSolid: drawn.solid!.took,
    busy: extension.hostBusy - busyBefore,
    stages: extension.lastBuild(document.uri.fsPath)?.times ?? {},
  };
}
