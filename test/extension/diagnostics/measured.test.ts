import { expect, test } from "vitest";
import { isMeasured } from "../../../src/extension/diagnostics/measured";
import { message } from "../states";

test("what checks and the plan found is told from what keeps a design from being built", () => {
  const built = message("error");
  expect(isMeasured(built)).toBe(false);
  expect(isMeasured({ ...built, check: "gap" } as typeof built)).toBe(true);
  expect(isMeasured({ ...built, topic: "support" } as typeof built)).toBe(true);
});
