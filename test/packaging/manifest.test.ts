import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import manifest from "../../package.json" with { type: "json" };
import { workspaceLimitsName } from "../../src/build/workspaceLimits";
import { commandIds } from "../../src/extension/commandIds";
import { headingLines } from "../../src/extension/diagnostics/helpPages";
import { toolInputSchema } from "../../src/extension/languageModel/toolInput";
import { root } from "../../src/tools/setup.mjs";
import { defaultChords } from "./defaultChords";
import { sources } from "./sources";

/** What package.json tells VS Code, held against the code that answers to it. */

const { contributes } = manifest;
const commands = contributes.commands.map(({ command }) => command);
const extensionCode = sources("src/extension").join("\n");

describe("commands", () => {
  test("are those of the code, all of them and no other", () => {
    expect([...commands].sort()).toEqual(Object.values(commandIds).sort());
    expect(new Set(commands).size).toBe(commands.length);
  });

  test("read as deeds, under one category, each with an icon", () => {
    for (const { title, category, icon } of contributes.commands) {
      expect(category).toBe("Anadem");
      expect(title, "Title Case").toMatch(/^[A-Z]\w*( (?:for|into|in|of|the|[A-Z]\w*))*…?$/);
      expect(icon).toMatch(/^\$\([a-z-]+\)$/);
    }
  });

  test("of menus, keys, steps and welcome texts are contributed", () => {
    const items = Object.values(contributes.menus).flat();
    const named = [
      ...items.map(({ command }) => command),
      ...contributes.keybindings.map(({ command }) => command),
      ...JSON.stringify([contributes.walkthroughs, contributes.viewsWelcome]).matchAll(
        /command:(anadem\.\w+)/g,
      ),
      ...JSON.stringify(contributes.walkthroughs).matchAll(/onCommand:(anadem\.\w+)/g),
    ].map((name) => (typeof name === "string" ? name : name[1]));
    expect(named.filter((name) => !commands.includes(name))).toEqual([]);
  });

  test("that need a design are hidden where there is none", () => {
    const hidden = new Map(contributes.menus.commandPalette.map(({ command, when }) => [command, when]));
    for (const id of [
      "build",
      "export",
      "keepReport",
      "showReport",
      "chooseWearer",
      "writeParameters",
    ] as const) {
      expect(hidden.get(commandIds[id]), id).toMatch(/^anadem\.has/);
    }
    // What runs a design, or writes one, waits for trust.
    for (const { command, enablement } of contributes.commands) {
      if (/\.(build|buildAll|export|keepReport|writeParameters|choose\w+)$/.test(command)) {
        expect(enablement, command).toContain("isWorkspaceTrusted");
      }
    }
  });

  test("show one icon in the title of a design: the eye", () => {
    const icons = contributes.menus["editor/title"].filter(
      ({ when, group }) => group.startsWith("navigation") && when.includes("resourceFilename"),
    );
    expect(icons.map(({ command }) => command)).toEqual(["anadem.showPreview"]);
    expect(contributes.commands[0]).toMatchObject({ command: "anadem.showPreview", icon: "$(eye)" });
  });

  test("ask only for context keys that the code sets", () => {
    const asked = JSON.stringify([
      contributes.menus,
      contributes.keybindings,
      contributes.walkthroughs,
      contributes.commands,
    ]);
    const keys = new Set(
      [...asked.matchAll(/\banadem\.((?:has|is|preview)[A-Z]\w*|previewFocus)\b/g)].map(([, key]) => key),
    );
    expect(keys.size).toBeGreaterThan(3);
    for (const key of keys) expect(extensionCode, key).toContain(`set("${key}"`);
  });
});

describe("keys", () => {
  const ours = contributes.keybindings;

  test("are chords, each of its own, the same on a Mac", () => {
    expect(new Set(ours.map(({ key }) => key)).size).toBe(ours.length);
    for (const { key, mac } of ours) {
      expect(key).toMatch(/^ctrl\+k [a-z]$/);
      expect(mac).toBe(key.replace("ctrl", "cmd"));
    }
  });

  test("hold for our files and views only, and none is VS Code's own", () => {
    for (const { key, when } of ours) {
      expect(when).toMatch(/\.headpiece\\\.ts|anadem\.previewFocus/);
      expect(defaultChords).not.toContain(key);
    }
  });
});

describe("settings", () => {
  const { properties } = contributes.configuration;
  const names = Object.keys(properties).map((key) => key.replace("anadem.", ""));

  test("are those that the code reads", () => {
    const read = [
      ...extensionCode.matchAll(
        /\bsetting\(\s*"(\w+)"|getConfiguration\("anadem"[^)]*\)\s*\.get[^(]*\("(\w+)"/g,
      ),
    ].map(([, name, other]) => name ?? other);
    expect([...new Set(read)].sort()).toEqual([...names].sort());
  });

  test("have the defaults and bounds of the code", () => {
    const code = readFileSync(join(root, "src/extension/settings/settings.ts"), "utf8");
    for (const [key, setting] of Object.entries(properties)) {
      const name = key.replace("anadem.", "");
      const preset = new RegExp(`\\n  ${name}: ("[^"]*"|\\w+)`).exec(code)![1];
      expect(JSON.parse(preset), name).toBe(setting.default);
      const range = new RegExp(`\\n  ${name}: \\[(\\d+), (\\d+)\\]`).exec(code);
      if ("minimum" in setting)
        expect(range!.slice(1).map(Number)).toEqual([setting.minimum, setting.maximum]);
    }
  });

  test("are ordered, and each says its scope and what it does", () => {
    const all = Object.values(properties);
    expect(all.map(({ order }) => order)).toEqual(all.map((_, i) => i + 1));
    for (const { scope, markdownDescription } of all) {
      expect(scope).toBe("resource");
      expect(markdownDescription).toMatch(/^[A-Z].*\.$/s);
    }
  });
});

test("it starts only with our files, views and commands", () => {
  expect(manifest.activationEvents).toEqual([
    "workspaceContains:**/*.headpiece.ts",
    "onWebviewPanel:anadem.preview",
    "onWebviewPanel:anadem.refit",
    "onWebviewPanel:anadem.measuring",
  ]);
});

test("it says what it does in Restricted Mode and in a virtual workspace", () => {
  const { untrustedWorkspaces, virtualWorkspaces } = manifest.capabilities;
  expect(untrustedWorkspaces.supported).toBe("limited");
  const settings = Object.keys(contributes.configuration.properties);
  expect(untrustedWorkspaces.restrictedConfigurations.filter((key) => !settings.includes(key))).toEqual([]);
  expect(virtualWorkspaces).toMatchObject({ supported: false, description: expect.stringMatching(/\.$/) });
});

test("its schemas, pictures and snippets exist", () => {
  const schemas = sources("src", ".schema.json", ({ path }) => path.split("/").at(-1)!);
  for (const { url, fileMatch } of contributes.jsonValidation) {
    expect(schemas).toContain(url.replace("./dist/schemas/", ""));
    const name = url.split("/").at(-1)!.replace(".schema.json", ".json");
    // There is one file of limits in a folder.
    expect(fileMatch).toBe(name === "limits.json" ? workspaceLimitsName : `*.${name}`);
  }
  const pictures = [
    manifest.icon,
    contributes.viewsContainers.activitybar[0].icon,
    ...contributes.walkthroughs[0].steps.map(({ media }) => media.svg),
  ];
  for (const path of pictures) expect(existsSync(join(root, path)), path).toBe(true);
  for (const { path } of contributes.snippets) {
    expect(existsSync(join(root, path.replace("./dist", "src/extension"))), path).toBe(true);
  }
});

test("its icon is a PNG of at least 128 pixels; that of the view takes the theme's colour", () => {
  const icon = readFileSync(join(root, manifest.icon));
  expect(icon.toString("latin1", 1, 4)).toBe("PNG");
  // W3C PNG: width and height stand in the first chunk.
  expect(Math.min(icon.readUInt32BE(16), icon.readUInt32BE(20))).toBeGreaterThanOrEqual(128);
  const view = readFileSync(join(root, contributes.viewsContainers.activitybar[0].icon), "utf8");
  expect(view).toContain('width="24" height="24"');
  expect(view).toContain("currentColor");
});

test("the walkthrough has four or five steps, each with a picture, its words, and an end", () => {
  const [{ steps }] = contributes.walkthroughs;
  expect(steps.length).toBeGreaterThanOrEqual(4);
  expect(steps.length).toBeLessThanOrEqual(5);
  for (const { media, completionEvents } of steps) {
    expect(media.altText.length).toBeGreaterThan(30);
    expect(completionEvents.length).toBeGreaterThan(0);
    const svg = readFileSync(join(root, media.svg), "utf8");
    expect(svg).toContain("var(--vscode-foreground)");
    expect(svg.length).toBeLessThan(300_000);
  }
});

test("the tools of language models take what the code takes", () => {
  for (const { inputSchema } of contributes.languageModelTools) expect(inputSchema).toEqual(toolInputSchema);
});

/** As a field, or as the first argument in a row of its own; `kind:` and other fields have other names. */
const messageId = /\bid: "([a-z]+(?:-[a-z]+)*)"|(?:\n\s+|message\()"([a-z]+(?:-[a-z]+)+)",/g;

test("every message that the tool can give is explained on the help page", () => {
  const page = readFileSync(join(root, "media/help/messages.md"), "utf8");
  const explained = headingLines(page);
  const code = [
    "src/build",
    "src/head",
    "src/design",
    "src/checks",
    "src/print",
    "src/cli",
    "src/extension/builds",
  ].flatMap((folder) => sources(folder));
  const given = new Set(
    code.flatMap((text) => [...text.matchAll(messageId)].map(([, whole, called]) => whole ?? called)),
  );
  expect(given.size).toBeGreaterThan(50);
  expect([...given].filter((id) => !explained.has(id))).toEqual([]);
});
