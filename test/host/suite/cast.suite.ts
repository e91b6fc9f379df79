import { strict as assert } from "node:assert";
import { existsSync } from "node:fs";
import { after, before, describe, it } from "mocha";
import * as vscode from "vscode";
import type { CastReport } from "../../../src/export/castReport";
import {
  asText,
  at,
  codeOf,
  isOf,
  open,
  problems,
  problemsIn,
  rangeOf,
  remove,
  save,
  textOf,
  until,
  write,
} from "./support";
import { ringDesign } from "./trials";

/** A cast of one ring that is quickly made. */
const castText = ({ opens = "2099-05-15", more = "" } = {}) => `{
  "production": "The Small Court",
  "opens": "${opens}",
  "pieces": [{ "role": "The Guard", "design": "guard.headpiece.ts", "wearer": "guard.wearer.json" }],
  "printers": [{ "file": "guard.printer.json", "count": 2${more} }]
}
`;

const sheetTabs = () =>
  vscode.window.tabGroups.all
    .flatMap(({ tabs }) => tabs)
    .filter(({ input }) => input instanceof vscode.TabInputWebview && input.viewType.endsWith("anadem.cast"));

const plan = (cast: vscode.Uri) =>
  vscode.commands.executeCommand<CastReport | undefined>("anadem.planCast", cast);

describe("a cast", () => {
  const cast = at("court.cast.json", "fresh");
  before(async () => {
    await write(
      at("guard.wearer.json", "fresh"),
      '{ "name": "Gull, the guard", "units": "cm", "girth": 56 }\n',
    );
    await write(
      at("guard.printer.json", "fresh"),
      '{ "name": "Hall", "plate": { "shape": "rectangular", "width": 300, "depth": 300 }, "height": 300 }\n',
    );
    await write(
      at("guard.headpiece.ts", "fresh"),
      ringDesign({ name: "Guard", wearer: "guard.wearer.json" }),
    );
    await write(cast, castText());
  });
  after(async () => {
    await vscode.commands.executeCommand("workbench.action.closeAllEditors");
    for (const name of ["court.cast.json", "guard.wearer.json", "guard.printer.json", "guard.headpiece.ts"])
      await remove(at(name, "fresh"));
    if (existsSync(at("out", "fresh").fsPath)) await remove(at("out", "fresh"));
  });

  it("is planned, and its sheet is shown", async () => {
    const report = await plan(cast);
    assert.ok(report, "there is a plan");
    assert.equal(report.ok, true, JSON.stringify(report.findings));
    assert.equal(report.pieces[0].headpiece, "Guard");
    assert.equal(report.prints.length, 1);
    assert.ok(report.prints[0].hours > 0.1 && report.prints[0].hours < 40, `${report.prints[0].hours} h`);
    assert.ok(report.pieces[0].picture?.includes("<svg"), "it has a picture");
    const tab = await until("the sheet is shown", () => sheetTabs()[0]);
    assert.equal(tab.label, "The Small Court: cast");
  });

  it("is planned again when a file that it uses is saved", async () => {
    const titled = (title: string) =>
      until(`the sheet is called ${title}`, () => sheetTabs()[0]?.label === title);
    await save(cast, castText().replace("The Small Court", "The Smaller Court"));
    await titled("The Smaller Court: cast");
    assert.equal(sheetTabs().length, 1, "one sheet for one cast");
    // A wearer that is wrong leaves the sheet, and is told in its file; mended, it is planned again.
    const wearer = at("guard.wearer.json", "fresh");
    await save(wearer, textOf(wearer).replace("56", '"wide"'));
    await problems(wearer, "the wrong girth", isOf("wrong-type"));
    await save(wearer, textOf(wearer).replace('"wide"', "57"));
    await until("it goes when it is mended", () => problemsIn(wearer).length === 0);
    assert.equal((await plan(cast))?.production, "The Smaller Court");
    assert.equal(sheetTabs().length, 1, "still one sheet");
  });

  it("what is wrong with its file is shown at its line while it is typed", async () => {
    await open(cast);
    const text = castText({ more: ', "houresADay": 8' });
    await save(cast, text);
    const found = await problems(cast, "the unknown key", isOf("unknown-key"));
    assert.equal(asText(found[0].range), asText(rangeOf(text, '"houresADay"')));
    assert.match(found[0].message, /hoursADay/);
    assert.equal(await plan(cast), undefined);
    await save(cast, castText());
    await until("it goes when it is mended", () => problemsIn(cast).length === 0);
  });

  it("what its plan finds is shown at the piece's line", async () => {
    const text = castText({ opens: "2027-01-01" }).replace("2027-01-01", "2020-01-01");
    await save(cast, text);
    const report = await plan(cast);
    assert.equal(report?.ok, false);
    const found = await problems(cast, "that it has opened", isOf("cast-opened"));
    assert.ok(found.some((problem) => codeOf(problem) === "cast-opened" && problem.range.start.line === 2));
  });
});
