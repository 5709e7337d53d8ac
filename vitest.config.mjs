import { defineConfig } from "vitest/config";

// Unit and property tests: no editor, no network, no clock. The workbench tests have a configuration of their own.
export default defineConfig({
  test: {
    include: ["test/**/*.test.ts"],
    exclude: ["test/workbench/**", "node_modules/**"],
    testTimeout: 90_000,
    pool: "threads",
    // Files share the modules of their worker: loading those anew for each took a third of the time.
    isolate: false,
    // All cores: nothing else runs beside the tests, and on two cores the usual one less would be one.
    maxWorkers: "100%",
  },
});
