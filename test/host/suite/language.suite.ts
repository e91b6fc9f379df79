import { strict as assert } from "node:assert";
import { after, describe, it } from "mocha";
import * as vscode from "vscode";
import { at, open, rangeOf, remove, save, until, write } from "./support";

const textOfHover = ({ contents }: vscode.Hover): string =>
  contents.map((each) => (typeof each === "string" ? each : each.value)).join("\n");

describe("language", () => {
  const design = at("first.headpiece.ts", "fresh");
  const text = `import { band, headpiece, tube } from "anadem";
import { nothing } from "./nothing";

export default headpiece({
  name: "First",
  make: ({ head }) => [band("ring", head.girthLine, { width: 12, thickness: 4 }), tube("spike", 5, { radius: 3 })],
});
`;
  after(async () => {
    await vscode.commands.executeCommand("workbench.action.closeAllEditors");
    await remove(design);
  });

  it("knows anadem in a folder in which nothing is installed", async () => {
    await write(design, text);
    await open(design);
    // What is truly wrong is told, so that silence about the rest means something.
    const typeErrors = () =>
      vscode.languages
        .getDiagnostics(design)
        .filter(({ source, severity }) => source === "ts" && severity === vscode.DiagnosticSeverity.Error);
    const starts = await until(
      "TypeScript has looked at the file",
      () => {
        const found = typeErrors().map(({ range }) => range.start);
        return found.length >= 2 ? found : undefined;
      },
      { tell: typeErrors },
    );
    const wrong = [rangeOf(text, '"./nothing"'), rangeOf(text, "5, { radius")].map(({ start }) => start);
    assert.deepEqual(
      starts.sort((a, b) => a.compareTo(b)),
      wrong,
    );
  });

  it("completes names and options", async () => {
    const labels = async (changed: string, position: vscode.Position) => {
      await save(design, changed);
      return until(
        "TypeScript completes",
        async () => {
          const { items } = await vscode.commands.executeCommand<vscode.CompletionList>(
            "vscode.executeCompletionItemProvider",
            design,
            position,
          );
          const names = items.map(({ label }) => (typeof label === "string" ? label : label.label));
          return names.some((name) => /^(onHead|thickness)\??$/.test(name)) ? names : undefined;
        },
        { seconds: 60 },
      );
    };
    const importing = text.replace("tube }", "tube,  }");
    const names = await labels(importing, rangeOf(importing, "tube, ").end);
    for (const name of ["onHead", "mirrored", "length"]) assert.ok(names.includes(name), name);
    const asking = text.replace("thickness: 4", "");
    const options = await labels(asking, rangeOf(asking, "width: 12, ").end);
    assert.ok(
      options.some((name) => /^thickness/.test(name)),
      options.join(),
    );
  });

  it("shows what a word of the language means", async () => {
    await save(design, text);
    const { start } = rangeOf(text, 'tube("spike"');
    const hover = await until("the hover comes", async () => {
      const found = await vscode.commands.executeCommand<vscode.Hover[]>(
        "vscode.executeHoverProvider",
        design,
        start.translate(0, 1),
      );
      const said = found.map(textOfHover).join("\n");
      return said.includes("tube(") ? said : undefined;
    });
    assert.match(hover, /tube\(name: string, path: .*shape\?: TubeOptions\): Tube/s);
    assert.match(hover, /A tube swept along a path/, "with its docstring");
  });

  it("checks a wearer's file by its schema", async () => {
    const wearer = at("first.wearer.json", "fresh");
    const wrong = '{ "name": "First", "units": "cm", "girth": 56, "grith": 56 }\n';
    await write(wearer, wrong);
    await open(wearer);
    const [problem, ...others] = await until("the editor complains", () => {
      const found = vscode.languages.getDiagnostics(wearer);
      return found.length > 0 ? found : undefined;
    });
    assert.deepEqual(others, []);
    assert.match(problem.message, /grith/);
    assert.deepEqual(problem.range.start, rangeOf(wrong, '"grith"').start);
    await save(wearer, wrong.replace(', "grith": 56', ""));
    await until("the complaint is gone", () => vscode.languages.getDiagnostics(wearer).length === 0);
    await remove(wearer);
  });
});
