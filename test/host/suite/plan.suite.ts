import { strict as assert } from "node:assert";
import { after, before, describe, it } from "mocha";
import * as vscode from "vscode";
import type { DesignState } from "../../../src/extension/designState";
import {
  api,
  at,
  builtAs,
  codeOf,
  ended,
  isGood,
  open,
  pause,
  problemsIn,
  remove,
  save,
  until,
  write,
} from "./support";

/** A ring with an arm that hangs far out: as designed it needs supports, and upside down fewer. */
const text = ({
  name = "Planned",
  reach = 60,
} = {}) => `import { band, headpiece, onHead, tube } from "anadem";

export default headpiece({
  name: ${JSON.stringify(name)},
  wearer: "minnow.wearer.json",
  printer: "hall-220.printer.json",
  make({ head }) {
    const ring = band("ring", head.girthLine.raised(12), { width: 16, thickness: 5 });
    const arm = tube("arm", [
      onHead({ azimuth: 40, elevation: 5 }),
      onHead({ azimuth: 40, elevation: 60, lift: 40 }),
      onHead({ azimuth: 60, elevation: 55, lift: ${reach} }),
    ], { radius: [5, 4, 3] });
    return [ring, arm];
  },
});
`;

const isPlanned = (state: DesignState) => isGood(state) && state.report?.plan !== undefined;

describe("the print plan", () => {
  const design = at("planned.headpiece.ts");
  const planned = (what: string, isRight: (state: DesignState) => boolean = () => true) =>
    ended(design, what, (state) => isPlanned(state) && isRight(state));
  const planOf = ({ report }: DesignState) => report!.plan!;
  before(async () => {
    await write(design, text());
    await open(design);
    await builtAs(design, "Planned");
  });
  after(async () => {
    await vscode.commands.executeCommand("workbench.action.closeAllEditors");
    await remove(design);
  });

  it("comes after a good build, with figures that agree with each other", async () => {
    const state = await planned("it is planned");
    const plan = planOf(state);
    assert.equal(plan.printer, "Hall printer, 220 × 220 × 250");
    assert.ok(plan.hours > 0.2 && plan.hours < plan.hoursMost, `${plan.hours} of ${plan.hoursMost} h`);
    // 1 m of 1.75 mm filament is 2.405 cm³, 1.24 g/cm³ of PLA: 335.3 m a kilogram (computed from the circle's area).
    assert.ok(Math.abs(plan.metres / plan.grams - 0.3353) < 0.004, `${plan.metres} m, ${plan.grams} g`);
    assert.ok(plan.pieceGrams <= plan.grams && plan.supports.volumeCm3 > 0);
    assert.ok(Math.abs(plan.pieceGrams - state.report!.massPrintedG) < 0.2, "the piece weighs the same");
    assert.ok(plan.directionsCompared >= 500, `${plan.directionsCompared} directions`);
    assert.ok(plan.orientations.some(({ isAsDesigned }) => isAsDesigned));
    assert.equal(plan.orientations.filter(({ isChosen }) => isChosen).length, 1);
  });

  it("its findings stand at their lines, notes as hints", async () => {
    const { messages } = await planned("it is planned");
    const found = messages.filter((message) => "topic" in message && message.file !== undefined);
    assert.ok(found.length > 0, "the arm's supports are worth a word");
    await until(
      "all of them are shown",
      () => {
        const shown = problemsIn(design);
        return found.every(({ id, line, severity, file }) =>
          shown.some(
            (problem) =>
              file === design.fsPath &&
              codeOf(problem) === id &&
              problem.range.start.line === line! - 1 &&
              problem.severity === severities[severity],
          ),
        );
      },
      { tell: () => ({ found, shown: problemsIn(design) }) },
    );
  });

  it("is told by lens, and by the tool for language models", async () => {
    const { hours } = planOf(await planned("it is planned"));
    const title = await until("the lens is there", async () => {
      const lenses = await vscode.commands.executeCommand<vscode.CodeLens[]>(
        "vscode.executeCodeLensProvider",
        design,
        20,
      );
      return lenses.find(({ command }) => command?.title.endsWith(" to print"))?.command?.title;
    });
    const [, h = "0", min = "0"] = /^(?:(\d+) h)? ?(?:(\d+) min)?,/.exec(title) ?? [];
    assert.ok(Math.abs(Number(h) + Number(min) / 60 - hours) < 0.02, `${title} of ${hours} h`);
    const { content } = await vscode.lm.invokeTool(
      "anadem_fit",
      { input: { design: "planned" }, toolInvocationToken: undefined },
      new vscode.CancellationTokenSource().token,
    );
    const [said, json] = content.map((each) => (each as vscode.LanguageModelTextPart).value);
    assert.match(
      said,
      /^Printed on Hall printer.* Hours: .*\. Filament: .* g, .* m of .*\. Spools: .*Supports: /m,
    );
    assert.equal(JSON.parse(json).report.plan.hours, hours);
    // Apart from the editor, by the command line: the plan is in it, and with thick layers it takes less time.
    const apart = await vscode.lm.invokeTool(
      "anadem_build",
      { input: { design: "planned", print: "quick" }, toolInvocationToken: undefined },
      new vscode.CancellationTokenSource().token,
    );
    const quick = JSON.parse((apart.content[0] as vscode.LanguageModelTextPart).value).report.plan;
    assert.equal(quick.settingsName, "Quick, for rehearsals");
    assert.ok(quick.hours < 0.9 * hours, `${quick.hours} h of ${hours} h`);
  });

  it("of an older text is dropped by a newer save", async () => {
    const before = planOf(await planned("it is planned"));
    const { designs } = await api();
    const seen: (number | undefined)[] = [];
    const listening = designs.onDidChange(() => {
      const state = designs.state(design);
      if (isGood(state) && state.header?.name === "Planned anew") seen.push(state.report?.plan?.hours);
    });
    await save(design, text({ name: "Planned anew", reach: 90 }));
    const state = await planned("the newer is planned", ({ header }) => header?.name === "Planned anew");
    listening.dispose();
    const after = planOf(state);
    assert.ok(after.grams > before.grams, `${after.grams} g of a longer arm, ${before.grams} g before`);
    assert.equal(seen[0], undefined, "its build ends without a plan");
    assert.equal(seen.at(-1), after.hours);
    assert.ok(!seen.includes(before.hours), `${seen} has none of ${before.hours} h`);
    await save(design, text());
    await planned("it is as before", ({ header }) => header?.name === "Planned");
  });

  it("by many quick saves: the last one's stands", async () => {
    for (let reach = 61; reach <= 72; reach++) await save(design, text({ name: `Reach ${reach}`, reach }));
    const state = await planned("the last is planned", ({ header }) => header?.name === "Reach 72");
    const { designs } = await api();
    assert.deepEqual(await designs.planned(design), state, "and nothing newer comes");
    await save(design, text());
    await planned("it is as before", ({ header }) => header?.name === "Planned");
  });

  it("follows the print settings that are chosen, and leaves the file alone", async () => {
    const usual = planOf(await planned("it is planned"));
    const choosing = vscode.commands.executeCommand("anadem.choosePrintSettings", design);
    // Gone to with the arrow key, each is tried out after a moment.
    const { designs } = await api();
    for (let steps = 0; triedOut(designs.state(design)) !== "quick"; steps++) {
      assert.ok(steps < 10, `${steps} steps down the list never came to quick.print.json`);
      await vscode.commands.executeCommand("workbench.action.quickOpenSelectNext");
      await pause(1000);
    }
    await vscode.commands.executeCommand("workbench.action.acceptSelectedQuickOpenItem");
    await choosing;
    const quick = planOf(
      await planned(
        "the quick print is planned",
        ({ report }) => report?.plan?.settingsName.startsWith("Quick") === true,
      ),
    );
    assert.ok(quick.hours < 0.9 * usual.hours, `${quick.hours} h of ${usual.hours} h`);
    assert.equal(quick.settings.layerHeight, 0.28);
    const document = await vscode.workspace.openTextDocument(design);
    assert.equal(document.getText(), text());
    await designs.choose(design, "print", undefined);
    assert.equal(
      planOf(await planned("the own print is planned", ({ chosen }) => chosen.print === undefined)).hours,
      usual.hours,
    );
  });

  it("a way up is written into the design, one undo takes it back", async () => {
    const { orientations } = planOf(await planned("it is planned"));
    const other = orientations.find(({ isAsDesigned }) => !isAsDesigned)!;
    assert.ok(other, "there is another way up");
    const { tiltDegrees: tilt, towardsDegrees: towards, turnDegrees: turn } = other;
    const { actions } = await api();
    await actions.useOrientation(design, { tilt, towards, turn });
    const document = await vscode.workspace.openTextDocument(design);
    assert.match(document.getText(), new RegExp(`print: \\{ orientation: \\{ tilt: ${tilt}[ ,]`));
    assert.equal(document.isDirty, false, "it is saved, as nothing else had changed");
    const state = await planned(
      "it is planned so",
      ({ report }) => report?.plan?.orientation.choice === "given",
    );
    const chosen = planOf(state).orientation;
    assert.ok(Math.abs(chosen.tiltDegrees - tilt) < 0.2, `${chosen.tiltDegrees}° are ${tilt}°`);
    await open(design);
    await vscode.commands.executeCommand("undo");
    assert.equal(document.getText(), text(), "one undo takes all back");
    await document.save();
    await planned("it is as before", ({ report }) => report?.plan?.orientation.choice !== "given");
  });
});

const severities = {
  error: vscode.DiagnosticSeverity.Error,
  warning: vscode.DiagnosticSeverity.Warning,
  note: vscode.DiagnosticSeverity.Hint,
} as const;

/** Name of the file of print settings that is tried out. */
const triedOut = ({ chosen }: DesignState): string | undefined =>
  chosen.print?.path.match(/([^/]+)\.print\.json$/)?.[1];
