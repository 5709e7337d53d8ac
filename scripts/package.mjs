// Builds and packs `fairstrike.vsix`, and looks into what was packed.
import { statSync } from "node:fs";
import path from "node:path";
import { buildAll } from "./build.mjs";
import { root, say, step, tool, whenStarted } from "./steps.mjs";

/** The packed extension. */
export const vsix = path.join(root, "fairstrike.vsix");

const LARGEST = 2_000_000; // bytes; the extension is meant to be light
const shipped = /^((dist|media|sample-notebooks|syntaxes)\/.+|package\.json|README\.md|CHANGELOG\.md|LICENSE|language-configuration[^/]*\.json)$/;

/** Packs what is in `dist/` and refuses a package that is too large or holds a file it should not. */
export async function packExtension() {
  /** @type {(args: string[]) => Promise<string>} */
  const vsce = (args) => tool("@vscode/vsce", "vsce", [...args, "--no-dependencies"], { quiet: true });
  const files = (await vsce(["ls"])).split("\n").map((line) => line.trim()).filter(Boolean);
  const stray = files.filter((file) => !shipped.test(file) || file.endsWith(".map"));
  if (stray.length > 0) throw new Error(`Not packed: .vscodeignore lets through ${stray.join(", ")}`);
  await vsce(["package", "--allow-missing-repository", "--no-rewrite-relative-links", "--out", vsix]);
  const { size } = statSync(vsix);
  if (size > LARGEST) throw new Error(`fairstrike.vsix has ${size} bytes; at most ${LARGEST} are meant to be shipped.`);
  say(`  fairstrike.vsix ${Math.round(size / 1000)} kB, ${files.length} files`);
}

await whenStarted(import.meta.url, async () => {
  await step("build", buildAll);
  await step("package", packExtension);
});
