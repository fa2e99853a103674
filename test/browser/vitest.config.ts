import { defineConfig } from "vitest/config";

/** Browser tests: one preview server for all, one file after the other, as they share two cores with the browser. */
export default defineConfig({
  test: {
    root: `${import.meta.dirname}/../..`,
    environment: "node",
    include: ["test/browser/**/*.browser.ts"],
    globalSetup: ["test/browser/serve.ts"],
    fileParallelism: false,
    testTimeout: 240_000,
    hookTimeout: 240_000,
    // A busy machine draws a frame in seconds; what never comes about still ends the wait.
    expect: { poll: { timeout: 30_000 } },
  },
});
