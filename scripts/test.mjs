// Everything that must pass, from a checkout in which nothing was installed yet; the last line counts it:
//   N passed, N failed
// Each test counts as one, and so does each check beside the tests.
import { existsSync, readFileSync, rmSync } from "node:fs";
import path from "node:path";
import { installChromium } from "./chromium.mjs";
import { installPackages } from "./install.mjs";
import { reportFailure, root, step, tool, whenStarted } from "./steps.mjs";
import { installWorkbench } from "./workbench-install.mjs";

const artefacts = path.join(root, "test-artefacts");
const count = { passed: 0, failed: 0 };

/**
 * Runs one check and counts it.
 *
 * @param {string} name
 * @param {() => Promise<unknown>} run
 * @returns {Promise<boolean>} whether it passed.
 */
async function check(name, run) {
  try {
    await step(name, run);
    count.passed += 1;
    return true;
  } catch (error) {
    reportFailure(error);
    count.failed += 1;
    return false;
  }
}

/**
 * Runs one suite of tests and counts each test.
 *
 * @param {string} name
 * @param {string[]} args further arguments for vitest.
 */
async function suite(name, args) {
  const report = path.join(artefacts, `${name}.json`);
  const failed = await step(`${name} tests`, () =>
    tool("vitest", "vitest.mjs", ["run", ...args, "--reporter=default", "--reporter=json", `--outputFile.json=${report}`]),
  ).then(
    () => undefined,
    (error) => error,
  );
  const result = existsSync(report) ? JSON.parse(readFileSync(report, "utf8")) : { numPassedTests: 0, numFailedTests: 0 };
  count.passed += result.numPassedTests;
  count.failed += result.numFailedTests;
  // A file that could not be loaded, or an error outside every test, fails the run without failing a test.
  if (failed && result.numFailedTests === 0) {
    reportFailure(failed);
    count.failed += 1;
  }
}

await whenStarted(import.meta.url, async () => {
  rmSync(artefacts, { recursive: true, force: true });
  await installPackages();
  // Imported now and not above: they need the packages.
  const { buildAll } = await import("./build.mjs");
  const { packExtension } = await import("./package.mjs");
  const { types, others } = await import("./check.mjs");

  // Both wait for the network and the disk, so they cost the tests next to nothing.
  const editor = Promise.all([check("workbench install", installWorkbench), check("Chromium", installChromium)]);

  await check(types.name, types.run);
  const built = (await check("build", buildAll)) && (await check("package", packExtension));
  await suite("unit", []);
  for (const { name, run } of others) await check(name, run);

  if ((await editor).every(Boolean) && built) {
    await suite("workbench", ["--config", "vitest.workbench.config.mjs"]);
  } else {
    console.error("The workbench tests were not run: what they need is not there.");
    count.failed += 1;
  }

  console.log(`${count.passed} passed, ${count.failed} failed`);
  if (count.failed > 0) process.exitCode = 1;
});
