// Everything that must hold before a commit, apart from the tests: types, lint, arrows between folders, dead code.
import { step, tool, whenStarted } from "./steps.mjs";

/** Whether the types hold. Like the checks below it has a name, and prints only when it fails. */
export const types = { name: "types (tsc -b)", run: () => tool("typescript", "bin/tsc", ["-b"], { quiet: true }) };

/** What holds beside types and tests. */
export const others = [
  { name: "lint (oxlint)", run: () => tool("oxlint", "bin/oxlint", ["--type-aware", "--deny-warnings"], { quiet: true }) },
  { name: "unused files, exports and packages (knip)", run: () => tool("knip", "bin/knip.js", [], { quiet: true }) },
];

/** Runs the architecture test alone. */
const architecture = {
  name: "arrows and cycles (test/architecture.test.ts)",
  run: () => tool("vitest", "vitest.mjs", ["run", "test/architecture.test.ts"], { quiet: true }),
};

await whenStarted(import.meta.url, async () => {
  /** @type {string[]} */
  const failures = [];
  for (const { name, run } of [types, ...others, architecture]) {
    await step(name, run).catch((error) => {
      failures.push(name);
      console.error(error.output ?? error);
    });
  }
  if (failures.length > 0) throw new Error(`Failed: ${failures.join("; ")}`);
});
