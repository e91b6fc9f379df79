import { defineConfig } from "vitest/config";

export default defineConfig({
  resolve: { alias: { anadem: new URL("../src/design/index.ts", import.meta.url).pathname } },
  test: {
    root: new URL("..", import.meta.url).pathname,
    include: ["test/**/*.test.ts"],
    testTimeout: 60_000,
    maxWorkers: 2,
  },
});
