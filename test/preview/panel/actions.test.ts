import { describe, expect, test } from "vitest";
import {
  type ActionId,
  actionIds,
  actionOf,
  actions,
  ariaKey,
  keyText,
} from "../../../src/preview/panel/actions";
import { showActions, toolbarActions, viewActions } from "../../../src/preview/panel/toolbar";

const press = (key: string, more: object = {}) => ({
  key,
  shiftKey: false,
  ctrlKey: false,
  altKey: false,
  metaKey: false,
  ...more,
});

describe("the keys", () => {
  test("no two actions share one", () => {
    expect(new Set(actionIds.map(keyText)).size).toBe(actionIds.length);
    expect(new Set(actionIds.map(ariaKey)).size).toBe(actionIds.length);
  });

  test("each leads to its own action, and names do not repeat", () => {
    for (const id of actionIds) {
      const { key, shift } = actions[id] as { key: string; shift?: true };
      expect(actionOf(press(key, { shiftKey: shift === true }))).toBe(id);
      expect(
        actionOf(
          press(key.toLowerCase().length === 1 ? key.toLowerCase() : key, { shiftKey: shift === true }),
        ),
      ).toBe(id);
    }
    expect(new Set(actionIds.map((id) => actions[id].label)).size).toBe(actionIds.length);
  });

  test("every button of the toolbar has one", () => {
    expect(actionIds).toEqual(expect.arrayContaining([...toolbarActions, ...viewActions, ...showActions]));
  });

  test("anything with Ctrl, Alt or Cmd is the editor's", () => {
    for (const modifier of ["ctrlKey", "altKey", "metaKey"])
      for (const id of actionIds)
        expect(actionOf(press(actions[id].key, { [modifier]: true }))).toBeUndefined();
  });

  test.each<[string, object, ActionId | undefined]>([
    ["&", { code: "Digit1", shiftKey: false }, "viewFront"],
    ["1", { code: "Numpad1" }, "viewFront"],
    ["+", { shiftKey: true }, "zoomIn"],
    ["=", {}, "zoomIn"],
    ["_", { shiftKey: true }, "zoomOut"],
    ["?", { shiftKey: true }, "help"],
    ["ArrowLeft", { shiftKey: true }, "panLeft"],
    ["n", {}, "nextFinding"],
    ["N", { shiftKey: true }, "previousFinding"],
    ["h", { shiftKey: true }, undefined],
    ["Tab", {}, undefined],
    [" ", {}, undefined],
    ["F1", {}, undefined],
  ])("%s %j", (key, more, id) => {
    expect(actionOf(press(key, more))).toBe(id);
  });

  test("are told to screen readers by the names that WAI-ARIA 1.2 asks for", () => {
    expect(ariaKey("previousFinding")).toBe("Shift+N");
    expect(ariaKey("zoomIn")).toBe("Plus");
    expect(ariaKey("orbitLeft")).toBe("ArrowLeft");
    for (const id of actionIds) expect(ariaKey(id)).toMatch(/^(Shift\+)?(Plus|[A-Z][A-Za-z]+|[^\s+])$/);
  });
});
