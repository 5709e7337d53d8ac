// Lays down the packages of the lock file when they are not there: what lets `npm start` and `npm test` run on a
// checkout in which nothing was installed yet.
import { existsSync, readFileSync } from "node:fs";
import path from "node:path";
import { npm, root, step, whenStarted } from "./steps.mjs";

/**
 * The packages that a lock file lists, by folder.
 *
 * @param {string} file
 * @returns {Record<string, { version?: string, optional?: boolean }>}
 */
const packagesIn = (file) => JSON.parse(readFileSync(file, "utf8")).packages;

/** True when `node_modules` holds every package of the lock file, in its version. */
export function packagesAreInstalled() {
  // npm writes this copy of the lock file last, so that a broken-off install has none.
  const laidDown = path.join(root, "node_modules/.package-lock.json");
  if (!existsSync(laidDown)) return false;
  const installed = packagesIn(laidDown);
  return Object.entries(packagesIn(path.join(root, "package-lock.json"))).every(
    // The root is no package, and an optional one may be for another system.
    ([where, wanted]) => where === "" || wanted.optional || installed[where]?.version === wanted.version,
  );
}

/** Installs the packages of the lock file unless they are there. Install scripts are not needed and not run. */
export async function installPackages() {
  const [major = 0, minor = 0] = process.versions.node.split(".").map(Number);
  if (major < 20 || (major === 20 && minor < 19)) {
    throw new Error(`Node 20.19 or newer is needed; this is ${process.versions.node}.`);
  }
  if (packagesAreInstalled()) return;
  await step("packages (npm ci)", () => npm(["ci", "--ignore-scripts", "--no-progress", "--loglevel=error"], { quiet: true }));
}

await whenStarted(import.meta.url, installPackages);
