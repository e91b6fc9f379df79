import { describe, expect, test } from "vitest";
import { readKeptState, usualState } from "../../../src/pages/refitTable/keptState";
import { readKeptTable } from "../../../src/pages/refitTable/protocolChecks";
import { nothingShown, receive } from "../../../src/pages/refitTable/shownState";
import { makeRunTeller } from "../../../src/pages/refitTable/telling";
import { figures, place, table } from "./rows";

const row = (key: string, more = {}) => ({ kind: "row", key, figures: figures(more) }) as const;

describe("what is shown", () => {
  test("a row keeps its figures while it is made again, and loses them with its place", () => {
    let shown = receive(nothingShown, table([place("a"), place("b")]));
    shown = receive(receive(shown, row("a")), row("b", { mass: 90 }));
    shown = receive(shown, table([place("b", { state: "outdated" })]));
    expect([...shown.figures.keys()]).toEqual(["b"]);
    expect(shown.figures.get("b")?.mass).toBe(90);
  });

  test("a notice stands in place of the table until the next table comes", () => {
    const notice = { kind: "notice", title: "Restricted Mode", text: "Nothing runs." } as const;
    let shown = receive(receive(nothingShown, table([place("a")])), notice);
    expect(shown.notice).toEqual(notice);
    shown = receive(shown, table([place("a")]));
    expect(shown.notice).toBeUndefined();
  });
});

describe("what is said", () => {
  const running = (done: number) => ({
    ...nothingShown,
    table: table([place("a"), place("b")], { run: { phase: "running", done, all: 2 } }),
  });

  test("when a run begins, now and then, and what came of it", () => {
    const tell = makeRunTeller();
    expect(tell(nothingShown, 0)).toBeUndefined();
    expect(tell(running(0), 0)).toBe("Refitting 2 rows.");
    expect(tell(running(1), 3_000)).toBeUndefined();
    expect(tell(running(1), 11_000)).toBe("1 of 2 made.");
    expect(tell(running(1), 12_000)).toBeUndefined();
    let done = receive(nothingShown, table([place("a"), place("b")]));
    done = receive(receive(done, row("a")), row("b", { verdict: "adjust" }));
    expect(tell(done, 13_000)).toBe("2 rows: 1 wear, 1 adjust first.");
    expect(tell(done, 14_000)).toBeUndefined();
  });

  test("a run that was stopped says so", () => {
    const tell = makeRunTeller();
    tell(running(0), 0);
    const ended = table([place("a")], { run: { phase: "cancelled", done: 0, all: 1 } });
    expect(tell({ ...nothingShown, table: ended }, 1)).toBe("Refit cancelled.");
  });
});

describe("what is kept over a reload", () => {
  const kept = {
    table: { scope: "all", design: "file:///court/coral-crown.headpiece.ts" },
    sorting: { column: "mass", isDescending: true },
    open: ["a"],
    scroll: 120,
  };

  test("comes back as it was, also out of its text", () => {
    expect(readKeptState(JSON.parse(JSON.stringify(kept)))).toEqual(kept);
    expect(readKeptTable(kept)).toEqual(kept.table);
  });

  test("what is unreadable is as usual", () => {
    for (const broken of [
      undefined,
      null,
      7,
      "x",
      [],
      { table: 1, sorting: { column: "colour" }, open: 3, scroll: -1 },
    ]) {
      expect(readKeptState(broken)).toEqual(usualState);
    }
    expect(readKeptTable({ table: { scope: "some" } })).toBeUndefined();
  });
});
