import { strict as assert } from "node:assert";
import { cpSync, readFileSync } from "node:fs";
import { it } from "mocha";
import * as vscode from "vscode";
import type { ExtensionApi } from "../../../src/extension/extensionApi";
import type { Drawn } from "../../../src/extension/preview/previewPanel";
import { runTests, tellFigure } from "../mochaRun";
import { api, at, builtAs, open, ours, pause, until } from "../suite/support";
import { HostProfiler } from "./hostProfiler";

/** Saves of one tube that are measured, after some that are not. */
const saves = 30;
const warmingUp = 8;
/** Saves that each change another tube than the one before. */
const otherSaves = 10;

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
      it(`${saves} saves of one reed of the wreath, ${otherSaves} of another each`, measureSaves);
    },
  );
  if (failed > 0) throw new Error("the bench did not come to its end");
}

async function activates(): Promise<void> {
  assert.ok(!ours().isActive, "nothing of ours is open, so nothing has started");
  // The editor itself has come to rest by the time that a person opens a file.
  await pause(8_000);
  const began = performance.now();
  await ours().activate();
  tellFigure("activation", performance.now() - began);
}

/** One save; times in ms. `draft`, `solid`: from the moment the file is saved to the picture on the screen. */
interface Save {
  /** From the command to the saved file: the editor's own work. */
  readonly saving: number;
  readonly draft: number;
  readonly solid: number;
  readonly drawingDraft: number;
  readonly drawingSolid: number;
  /** What the extension host ran: code of ours and what that called, and all code. */
  readonly busyOurs: number;
  readonly busyAll: number;
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
  // One reed of the 66 gets a radius of its own, later others too, each with one save.
  const factors = new Map([[reed, factorOf(0)]]);
  let last = radius(factors);
  await replace(editor.document, place, `share * thickness * ${last})`);
  const measure = async (index: number, factor: string) => {
    factors.set(index, factor);
    const next = radius(factors);
    const save = await measureSave(await api(), editor.document, last, next);
    last = next;
    return save;
  };
  for (let i = 1; i <= warmingUp; i++) await measure(reed, factorOf(i));
  const measured: Save[] = [];
  for (let i = 0; i < saves; i++) measured.push(await measure(reed, factorOf(warmingUp + 1 + i)));
  tellFigure("saves", measured);
  const others: Save[] = [];
  for (let i = 1; i <= otherSaves; i++) others.push(await measure((reed + 7 * i) % 66, factorOf(i)));
  tellFigure("otherSaves", others);
}

/** The reed that is edited again and again. */
const reed = 30;
const radius = (factors: ReadonlyMap<number, string>): string =>
  `(new Map([${[...factors].map(([index, factor]) => `[${index}, ${factor}]`).join(", ")}]).get(i) ?? 1)`;
const factorOf = (i: number): string => (1.01 + 0.01 * (i % 20)).toFixed(2);

/** Replaces a text in an open file, as typing does. */
async function replace(document: vscode.TextDocument, before: string, after: string): Promise<void> {
  const start = document.getText().indexOf(before);
  assert.ok(start >= 0, `the file has ${before}`);
  const edit = new vscode.WorkspaceEdit();
  const range = new vscode.Range(document.positionAt(start), document.positionAt(start + before.length));
  edit.replace(document.uri, range, after);
  await vscode.workspace.applyEdit(edit);
}

async function measureSave(
  extension: ExtensionApi,
  document: vscode.TextDocument,
  from: string,
  to: string,
): Promise<Save> {
  const [preview] = extension.previews;
  await replace(document, from, to);
  // A person looks up before saving; the editor has checked the types by then.
  await pause(700);
  const profiler = await HostProfiler.begin();
  await pause(300);
  const before = extension.lastBuild(document.uri.fsPath)!.version;
  const drawn: Partial<Record<Drawn["what"], { at: number; took: number }>> = {};
  const listening = preview.onDidDraw(({ version, what, milliseconds }) => {
    if (version > before) drawn[what] ??= { at: performance.now(), took: milliseconds };
  });
  let savedAt = 0;
  const saving = vscode.workspace.onDidSaveTextDocument(() => {
    savedAt ||= performance.now();
  });
  const began = performance.now();
  await document.save();
  // Seldom asked, so that asking costs the host nothing.
  for (let waited = 0; !drawn.solid && waited < 600; waited++) await pause(100);
  const { status } = extension.designs.state(document.uri);
  assert.ok(
    drawn.solid,
    `the solid is drawn: ${JSON.stringify({ before, drawn, last: preview.drawn, status })}`,
  );
  await until(
    "the build has ended",
    async () => {
      await pause(100);
      return extension.designs.state(document.uri).status === "built";
    },
    { seconds: 60 },
  );
  const busy = await profiler.end();
  listening.dispose();
  saving.dispose();
  await pause(1_000);
  return {
    saving: savedAt - began,
    draft: (drawn.draft ?? drawn.solid).at - savedAt,
    solid: drawn.solid.at - savedAt,
    drawingDraft: drawn.draft?.took ?? 0,
    drawingSolid: drawn.solid.took,
    ...busy,
    stages: extension.lastBuild(document.uri.fsPath)?.times ?? {},
  };
}
