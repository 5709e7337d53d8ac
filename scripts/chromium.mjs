// Finds the browser that the workbench tests drive, or installs it where that can be done without asking.
import { accessSync, constants, existsSync } from "node:fs";
import path from "node:path";
import { command, step } from "./steps.mjs";

const names = ["chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome", "chrome.exe", "msedge.exe"];
const elsewhere = ["/Applications/Chromium.app/Contents/MacOS/Chromium", "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome"];

/**
 * The path of a program on PATH; undefined when there is none.
 *
 * @param {string} name
 */
export function onPath(name) {
  for (const folder of (process.env.PATH ?? "").split(path.delimiter)) {
    const file = path.join(folder, name);
    try {
      accessSync(file, constants.X_OK);
      return file;
    } catch {
      // Not in this folder.
    }
  }
  return undefined;
}

/** The path of a Chromium: what the variable `CHROMIUM` names, or one that is installed; undefined without either. */
export function findChromium() {
  const named = process.env.CHROMIUM;
  if (named) {
    if (!existsSync(named)) throw new Error(`The variable CHROMIUM names ${named}, which is not there.`);
    return named;
  }
  return names.map(onPath).find(Boolean) ?? elsewhere.find((file) => existsSync(file));
}

/**
 * Gives the path of a Chromium, installing Debian's when there is none.
 *
 * @throws {Error} that says what to install, on another system or without the rights to.
 */
export async function installChromium() {
  const found = findChromium();
  if (found) return found;
  const help = "The workbench tests need Chromium: install it (Debian: apt-get install chromium), or set the variable CHROMIUM to its path.";
  if (!onPath("apt-get")) throw new Error(help);
  const mayInstall = process.getuid?.() === 0;
  /** @type {(...args: string[]) => Promise<string>} */
  const apt = (...args) => command(mayInstall ? "apt-get" : "sudo", mayInstall ? args : ["-n", "apt-get", ...args], { quiet: true, env: { ...process.env, DEBIAN_FRONTEND: "noninteractive" } });
  await step("Chromium (apt-get install)", async () => {
    try {
      await apt("update");
      await apt("install", "-y", "chromium");
    } catch (error) {
      throw new Error(help, { cause: error });
    }
  });
  const installed = findChromium();
  if (!installed) throw new Error(help);
  return installed;
}
