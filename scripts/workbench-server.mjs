// Runs the workbench of `.workbench/` on this machine only: for `npm start --browser` and for the workbench tests.
import { spawn } from "node:child_process";
import { existsSync, mkdirSync, writeFileSync } from "node:fs";
import path from "node:path";
import { adopt, command } from "./steps.mjs";
import { workbenchProgram } from "./workbench-install.mjs";

/** Settings of a new user: nothing is asked of the network, nothing distracts. */
const quietSettings = {
  "workbench.startupEditor": "none",
  "workbench.tips.enabled": false,
  "workbench.secondarySideBar.defaultVisibility": "hidden",
  "security.workspace.trust.enabled": false,
  "telemetry.telemetryLevel": "off",
  "update.mode": "none",
  "extensions.autoUpdate": false,
  "extensions.autoCheckUpdates": false,
  "extensions.ignoreRecommendations": true,
  "workbench.enableExperiments": false,
  "chat.disableAIFeatures": true,
};

/** The server's environment: without what was meant for the Node that runs this script. */
function environment() {
  // An empty gallery address: no look-ups in a market place, and no time-outs where there is no network.
  /** @type {NodeJS.ProcessEnv} */
  const kept = { ...process.env, EXTENSIONS_GALLERY: JSON.stringify({ serviceUrl: "" }), LANG: "C.UTF-8" };
  for (const name of Object.keys(kept)) if (/^(npm_|NODE_|VSCODE_|VITEST)/i.test(name)) delete kept[name];
  return kept;
}

/**
 * Starts a workbench and gives it once it listens on 127.0.0.1.
 *
 * It has no password: whoever has an account on this machine can use it, and nobody else can reach it.
 *
 * @param {object} options
 * @param {string} options.data the folder for settings and extensions; a short path, since it holds a socket.
 * @param {string} options.folder the folder it opens.
 * @param {string[]} [options.extensions] packed extensions to install.
 * @param {Record<string, unknown>} [options.settings] added to those of a new user.
 * @param {boolean} [options.trusting] false leaves workspace trust on.
 * @param {number} [options.port] 0 takes a free one.
 * @param {string[]} [options.flags] passed on to the server.
 * @returns the port, the process, what it printed so far, and a way to stop it that resolves when it is gone.
 */
export async function serveWorkbench({ data, folder, extensions = [], settings = {}, trusting = true, port = 0, flags = [] }) {
  const { node, entry } = workbenchProgram();
  const user = path.join(data, "user");
  const settingsFile = path.join(user, "User/settings.json");
  const config = path.join(data, "config.yaml"); // else one is written into the person's home folder
  mkdirSync(path.join(user, "User"), { recursive: true });
  mkdirSync(path.join(data, "ext"), { recursive: true });
  // A person may have changed theirs.
  if (!existsSync(settingsFile)) {
    writeFileSync(settingsFile, JSON.stringify({ ...quietSettings, "security.workspace.trust.enabled": !trusting, ...settings }, null, 2));
  }
  writeFileSync(config, "auth: none\n");
  const own = [entry, "--config", config, "--user-data-dir", user, "--extensions-dir", path.join(data, "ext")];
  for (const extension of extensions) {
    await command(node, [...own, "--install-extension", extension, "--force"], { quiet: true, env: environment() });
  }
  const quiet = ["--disable-telemetry", "--disable-update-check", "--disable-getting-started-override"];
  const trust = trusting ? ["--disable-workspace-trust"] : [];
  const server = spawn(node, [...own, "--auth", "none", "--bind-addr", `127.0.0.1:${port}`, ...quiet, ...trust, ...flags, folder], {
    env: environment(),
    stdio: ["ignore", "pipe", "pipe"],
  });
  adopt(server);
  let log = "";
  const gone = new Promise((resolve) => server.once("exit", resolve));
  /** @type {number} */
  const listening = await new Promise((resolve, reject) => {
    const tooLate = setTimeout(() => {
      server.kill("SIGTERM");
      reject(new Error(`The workbench did not start within a minute.\n${log}`));
    }, 60_000);
    /** @param {Buffer} text */
    const read = (text) => {
      log += text.toString();
      const address = /HTTP server listening on http:\/\/127\.0\.0\.1:(\d+)/.exec(log);
      if (!address) return;
      clearTimeout(tooLate);
      resolve(Number(address[1]));
    };
    server.stdout.on("data", read);
    server.stderr.on("data", read);
    server.once("exit", (code) => {
      clearTimeout(tooLate);
      reject(new Error(`The workbench ended with ${code} instead of starting.\n${log}`));
    });
  });
  return {
    port: listening,
    process: server,
    log: () => log,
    async stop() {
      if (server.exitCode === null && server.signalCode === null) server.kill("SIGTERM");
      await gone;
    },
  };
}
