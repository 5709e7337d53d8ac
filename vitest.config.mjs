import { defineConfig } from "vitest/config";

// Unit and property tests: no editor, no network, no clock. The workbench tests have a configuration of their own.
export default defineConfig({
  test: {
    include: ["test/**/*.test.ts"],
    exclude: ["test/workbench/**", "node_modules/**"],
    testTimeout: 90_000,
    pool: "threads",
  },
});
