// Opens the samples in VS Code, from a checkout in which nothing was installed yet.
//   npm start                  in the VS Code on this machine, else in a workbench in the browser
//   npm start -- --desktop     in the VS Code on this machine, or not at all
//   npm start -- --browser     in a workbench in the browser; --no-open only prints its address, --port N fixes it
import { spawn } from "node:child_process";
import path from "node:path";
import { parseArgs } from "node:util";
import { onPath } from "./chromium.mjs";
import { installPackages } from "./install.mjs";
import { command, root, say, step, whenStarted } from "./steps.mjs";

const samples = path.join(root, "sample-notebooks");
const first = path.join(samples, "three-irons.shots.md");

/** Gives the packed extension, built from the sources as they are. */
async function packed() {
  // Imported now and not above: they need the packages.
  const { buildAll } = await import("./build.mjs");
  const { packExtension, vsix } = await import("./package.mjs");
  await step("build", buildAll);
  await step("package", packExtension);
  return vsix;
}

/**
 * Installs the extension in the person's own VS Code and opens the samples there.
 *
 * @param {string} extension
 */
async function openOnDesktop(extension) {
  /** @type {(args: string[]) => Promise<string>} */
  const code = (args) => command("code", args, { shell: process.platform === "win32" });
  await step("install in VS Code", () => code(["--install-extension", extension, "--force"]));
  await code([samples, first]);
  say("The samples are open in VS Code. `code --uninstall-extension fairstrike.fairstrike` takes the extension out again.");
}

/**
 * Opens an address in the person's browser where the system has a way to; says nothing when it has none.
 *
 * @param {string} address
 */
function openInBrowser(address) {
  const hasScreen = process.platform !== "linux" || process.env.DISPLAY || process.env.WAYLAND_DISPLAY;
  if (!hasScreen) return;
  const opener = new Map([["darwin", "open"], ["win32", "explorer"]]).get(process.platform) ?? "xdg-open";
  const child = spawn(opener, [address], { stdio: "ignore", detached: true });
  child.on("error", (error) => say(`No browser was opened: ${error.message}`));
  child.unref();
}

/**
 * Serves a workbench with the extension, until it is stopped.
 *
 * @param {string} extension
 * @param {{ open: boolean, port: number }} options
 */
async function openInWorkbench(extension, { open, port }) {
  const { installWorkbench, workbenchIsInstalled } = await import("./workbench-install.mjs");
  const { serveWorkbench } = await import("./workbench-server.mjs");
  if (!workbenchIsInstalled()) await step("workbench install (about 800 MB, once)", installWorkbench);
  const server = await step("workbench", () =>
    serveWorkbench({
      data: path.join(root, ".workbench-data"),
      folder: samples,
      extensions: [extension],
      port,
      settings: {
        // A file named in the address opens before the extension is known; this makes the workbench wait for it.
        "workbench.editorAssociations": { "*.shots.md": "fairstrike-notebook" },
        "git.openRepositoryInParentFolders": "always",
      },
    }),
  );
  const payload = [["openFile", `vscode-remote://127.0.0.1:${server.port}${pathInAddress(first)}`]];
  const query = new URLSearchParams({ folder: pathInAddress(samples), payload: JSON.stringify(payload) });
  const address = `http://127.0.0.1:${server.port}/?${query.toString()}`;
  say(`The samples are open at\n\n  ${address}\n\nCtrl+C stops the workbench. What is saved there is saved in ${samples}.`);
  if (open) openInBrowser(address);
  await new Promise((resolve) => server.process.once("exit", resolve));
}

/**
 * A path as an address has it: `/C:/folder` under Windows.
 *
 * @type {(file: string) => string}
 */
const pathInAddress = (file) => (process.platform === "win32" ? `/${file.replaceAll("\\", "/")}` : file);

await whenStarted(import.meta.url, async () => {
  const { values } = parseArgs({
    options: {
      desktop: { type: "boolean", default: false },
      browser: { type: "boolean", default: false },
      "no-open": { type: "boolean", default: false },
      port: { type: "string", default: "0" },
    },
  });
  await installPackages();
  const extension = await packed();
  const desktop = onPath(process.platform === "win32" ? "code.cmd" : "code");
  if (values.desktop && !desktop) {
    throw new Error(`There is no \`code\` on PATH. In VS Code, run "Shell Command: Install 'code' command in PATH", or "Extensions: Install from VSIX…" with ${extension}.`);
  }
  if (desktop && !values.browser) return openOnDesktop(extension);
  await openInWorkbench(extension, { open: !values["no-open"], port: Number(values.port) });
});
