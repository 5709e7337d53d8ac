// Builds and packs `fairstrike.vsix`.
import { cpSync, mkdirSync, rmSync, statSync } from "node:fs";
import path from "node:path";
import { buildAll } from "./build.mjs";
import { root, say, step, tool, whenStarted } from "./steps.mjs";

/** The packed extension. */
export const vsix = path.join(root, "fairstrike.vsix");

const LARGEST = 5_500_000; // bytes; what runs in a browser is there a second time, and the formatter alone is 150 kB each time

/** What is shipped, and nothing else. */
const shipped = [
  "dist",
  "media",
  "schemas",
  "syntaxes",
  "language-configuration-query.json",
  "language-configuration-chart.json",
  "language-configuration-front.json",
  "sample-notebooks",
  "package.json",
  "README.md",
  "CHANGELOG.md",
  "LICENSE",
];

/** Packs what is in `dist/`, and refuses a package that is too large. */
export async function packExtension() {
  // Packed from a folder of its own, since the packer walks through everything beside the files it packs, and the
  // workbench for the tests is large.
  const folder = path.join(root, ".tsc/package");
  rmSync(folder, { recursive: true, force: true });
  mkdirSync(folder, { recursive: true });
  for (const name of shipped) {
    cpSync(path.join(root, name), path.join(folder, name), { recursive: true, filter: (file) => path.basename(file) !== ".vscode" });
  }
  const args = ["package", "--no-dependencies", "--allow-missing-repository", "--no-rewrite-relative-links", "--out", vsix];
  await tool("@vscode/vsce", "vsce", args, { quiet: true, cwd: folder });
  const { size } = statSync(vsix);
  if (size > LARGEST) throw new Error(`fairstrike.vsix has ${size} bytes; at most ${LARGEST} are meant to be shipped.`);
  say(`  fairstrike.vsix ${Math.round(size / 1000)} kB`);
}

await whenStarted(import.meta.url, async () => {
  await step("build", buildAll);
  await step("package", packExtension);
});
