import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { nothingShown, receive, type ShownState } from "../../../src/preview/panel/shownState";
import type { ToPreview } from "../../../src/preview/protocol";
import { design, draft, mesh, plan, solid, state } from "./rig";

const received = (...messages: ToPreview[]): ShownState => messages.reduce(receive, nothingShown);

describe("what is older than what is shown is dropped", () => {
  test.each([
    ["state", state(4, "ready"), state(5, "building")],
    ["design", design(4), design(5)],
    ["draft", draft(4), draft(5)],
    ["solid", solid(4), solid(5)],
    ["draft under a solid", draft(4), solid(5)],
    ["solid under a draft", solid(4), draft(5)],
    [
      "head",
      { kind: "head", version: 4, mesh: mesh() } as const,
      { kind: "head", version: 5, mesh: mesh() } as const,
    ],
    [
      "sheet",
      { kind: "sheet", version: 4, svg: "<svg/>" } as const,
      { kind: "sheet", version: 5, svg: "<svg/>" } as const,
    ],
    ["plan", plan(4), plan(5)],
    ["plan under a solid", plan(4), solid(5)],
    [
      "body on the plate",
      { kind: "planBody", version: 4, body: "props" } as const,
      { kind: "planBody", version: 5, body: "props" } as const,
    ],
    ["body under a draft", { kind: "planBody", version: 4, body: "props" } as const, draft(5)],
  ])("%s", (_, older, newer) => {
    const shown = received(newer);
    expect(receive(shown, older)).toBe(shown);
    expect(receive(received(older), newer)).not.toEqual(received(older));
  });

  test("the last good model comes back with its own version while a newer build goes on or failed", () => {
    expect(received(state(7, "failed"), design(4), solid(4)).picture).toEqual({ version: 4, what: "solid" });
  });

  test("a draft never hides the solid of its own version, and the solid replaces its draft", () => {
    expect(received(draft(3), solid(3), draft(3)).picture).toEqual({ version: 3, what: "solid" });
    expect(received(solid(3), draft(4)).picture).toEqual({ version: 4, what: "draft" });
  });

  test("whatever order messages come in, the newest of each kind stays", () => {
    const messages: ToPreview[] = [1, 2, 3, 4].flatMap((version) => [
      state(version, "ready"),
      design(version),
      draft(version),
      solid(version),
    ]);
    fc.assert(
      fc.property(fc.shuffledSubarray(messages, { minLength: messages.length }), (shuffled) => {
        const shown = received(...shuffled);
        expect(shown.build?.version).toBe(4);
        expect(shown.design?.version).toBe(4);
        expect(shown.picture).toEqual({ version: 4, what: "solid" });
      }),
    );
  });
});

describe("another design", () => {
  const other = design(9, { uri: "file:///stage/kelp.headpiece.ts", file: "kelp.headpiece.ts" });

  test("takes the model, the sheet and the build of the last one away", () => {
    const shown = received(
      design(5),
      state(5, "failed"),
      solid(5),
      { kind: "sheet", version: 5, svg: "" },
      other,
    );
    expect(shown).toMatchObject({ picture: undefined, sheet: undefined, build: undefined, cursor: -1 });
  });

  test("keeps what came for it before", () => {
    expect(received(design(5), solid(5), draft(9), state(9, "building"), other)).toMatchObject({
      picture: { version: 9, what: "draft" },
      build: { version: 9 },
    });
  });

  test("the same design again keeps all", () => {
    expect(received(design(5), solid(5), design(6)).picture).toEqual({ version: 5, what: "solid" });
  });
});

describe("a notice", () => {
  const notice = { kind: "notice", title: "Restricted Mode", text: "Nothing runs here." } as const;

  test("stands instead of all, until something of a design comes", () => {
    expect(received(solid(3), notice).notice).toEqual(notice);
    for (const message of [design(4), draft(4), solid(4), state(4, "building")])
      expect(received(notice, message).notice).toBeUndefined();
  });

  test("stays while nothing but its own state is told", () => {
    expect(received(notice, state(4, "idle"), { kind: "cursor", part: 2 }).notice).toEqual(notice);
  });
});

test("a cursor that did not move changes nothing", () => {
  const shown = received({ kind: "cursor", part: 2 });
  expect(shown.cursor).toBe(2);
  expect(receive(shown, { kind: "cursor", part: 2 })).toBe(shown);
});
