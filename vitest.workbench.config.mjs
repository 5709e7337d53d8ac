import { defineConfig } from "vitest/config";

// Tests that drive a real VS Code in a real browser: one file at a time, since each runs a server and a browser.
// They need `npm run workbench` and `npm run package` first; `npm test` sees to both.
export default defineConfig({
  test: {
    include: ["test/workbench/**/*.test.ts"],
    testTimeout: 180_000,
    hookTimeout: 180_000,
    fileParallelism: false,
    pool: "forks",
  },
});
