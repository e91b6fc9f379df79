import { strict as assert } from "node:assert";
import { describe, it } from "mocha";
import * as vscode from "vscode";
import { api, ours } from "./support";

interface Manifest {
  contributes: {
    commands: { command: string; title: string; category: string }[];
    menus: Record<string, { command?: string }[]>;
    keybindings: { command: string }[];
    views: Record<string, { id: string }[]>;
    configuration: { properties: Record<string, { default: unknown }> };
  };
}

describe("manifest", () => {
  const manifest = () => ours().packageJSON as Manifest;
  const declared = () => manifest().contributes.commands.map(({ command }) => command);

  it("is of an extension that starts", async () => {
    await api();
    assert.ok(ours().isActive);
  });

  it("declares the commands that are registered, and no other", async () => {
    await api();
    const views = Object.values(manifest().contributes.views).flat();
    // VS Code makes commands of its own for every view.
    const ofViews = (id: string) => views.some((view) => id.startsWith(`${view.id}.`));
    const all = await vscode.commands.getCommands(true);
    const registered = all.filter((id) => id.startsWith("anadem.") && !ofViews(id));
    assert.deepEqual(registered.sort(), declared().sort());
  });

  it("names declared commands in menus and keys", () => {
    const { menus, keybindings } = manifest().contributes;
    const named = [...Object.values(menus).flat(), ...keybindings].flatMap(({ command }) => command ?? []);
    assert.ok(named.length > 0);
    assert.deepEqual(
      named.filter((id) => id.startsWith("anadem.") && !declared().includes(id)),
      [],
    );
  });

  it("gives every setting the value that it declares", () => {
    const properties = Object.entries(manifest().contributes.configuration.properties);
    assert.ok(properties.length > 0);
    for (const [key, { default: value }] of properties) {
      assert.deepEqual(vscode.workspace.getConfiguration().inspect(key)?.defaultValue, value, key);
    }
  });
});
