// How every script runs its steps: one line when a long step begins, one with its seconds when it ends, and the
// output of a quiet command only when it failed. Needs nothing but Node.
import { spawn } from "node:child_process";
import { realpathSync } from "node:fs";
import path from "node:path";
import { fileURLToPath } from "node:url";

/** The folder of this checkout. */
export const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), "..");

const began = Date.now();
/** @type {Set<import("node:child_process").ChildProcess>} */
const running = new Set();

/** A command that ended with another code than 0; `output` is what it printed, when it was quiet. */
export class CommandFailed extends Error {
  /**
   * @param {string} line the command as typed.
   * @param {string | number | null} code
   * @param {string} output
   */
  constructor(line, code, output) {
    super(`${line} ended with ${code}`);
    this.output = output;
  }
}

/**
 * Prints a line with the seconds since the script began.
 *
 * @param {string} text
 */
export function say(text) {
  const seconds = ((Date.now() - began) / 1000).toFixed(1);
  console.log(`[${seconds.padStart(6)} s] ${text}`);
}

/**
 * Runs one step and gives its result; says when it begins and, with its own seconds, how it ends.
 *
 * @template T
 * @param {string} name
 * @param {() => T | Promise<T>} run
 * @returns {Promise<T>}
 */
export async function step(name, run) {
  const start = Date.now();
  const seconds = () => `${((Date.now() - start) / 1000).toFixed(1)} s`;
  say(`${name} …`);
  try {
    const result = await run();
    say(`${name}: done in ${seconds()}`);
    return result;
  } catch (error) {
    say(`${name}: FAILED after ${seconds()}`);
    throw error;
  }
}

/**
 * How a command is run: `quiet` keeps the output for the case of failure; `cwd` defaults to the checkout; `env` is
 * the whole environment, by default that of this script.
 *
 * @typedef {{ cwd?: string, env?: NodeJS.ProcessEnv, quiet?: boolean, shell?: boolean }} CommandOptions
 */

/**
 * Runs a command to its end and gives what it printed (nothing unless `quiet`).
 *
 * @param {string} file
 * @param {readonly string[]} args
 * @param {CommandOptions} [options]
 * @returns {Promise<string>}
 * @throws {CommandFailed} when it ends with another code than 0, or by a signal.
 */
export function command(file, args, { cwd = root, env = process.env, quiet = false, shell = false } = {}) {
  return new Promise((resolve, reject) => {
    const child = spawn(file, [...args], {
      cwd,
      env,
      shell,
      stdio: ["ignore", quiet ? "pipe" : "inherit", quiet ? "pipe" : "inherit"],
    });
    running.add(child);
    let output = "";
    child.stdout?.on("data", (data) => (output += data));
    child.stderr?.on("data", (data) => (output += data));
    child.on("error", (error) => {
      running.delete(child);
      reject(new CommandFailed(`${file} (${error.message})`, "no start", output));
    });
    child.on("close", (code, signal) => {
      running.delete(child);
      if (code === 0) resolve(output);
      else reject(new CommandFailed([path.basename(file), ...args].join(" "), code ?? signal, output));
    });
  });
}

/**
 * Runs npm, the one that runs this script where there is one.
 *
 * @param {readonly string[]} args
 * @param {CommandOptions} [options]
 */
export function npm(args, options) {
  const own = process.env.npm_execpath;
  if (own?.endsWith(".js") || own?.endsWith(".cjs")) return command(process.execPath, [own, ...args], options);
  return command("npm", args, { ...options, shell: process.platform === "win32" });
}

/**
 * Runs a program that a package brings: `tool("vitest", "vitest.mjs", ["run"])`.
 *
 * @param {string} from the package.
 * @param {string} program its file in the package.
 * @param {readonly string[]} args
 * @param {CommandOptions} [options]
 */
export function tool(from, program, args, options) {
  return command(process.execPath, [path.join(root, "node_modules", from, program), ...args], options);
}

/**
 * Reports a failure where a person looks, and gives the exit code 1. What a script refuses is said in its own words;
 * the stack is for what nobody expected.
 *
 * @param {unknown} error
 */
export function reportFailure(error) {
  if (!(error instanceof Error)) console.error(error);
  else if (error instanceof CommandFailed) console.error(`${error.output.trimEnd()}\n${error.message}`.trimStart());
  else console.error(error.constructor === Error ? error.message : error);
  if (error instanceof Error && error.cause !== undefined) reportFailure(error.cause);
  return 1;
}

/**
 * Runs `main` when the file at `url` is the program that was started and not imported by another one. A failure is
 * reported and makes the exit code 1; signals reach the commands that run.
 *
 * @param {string} url `import.meta.url` of that file.
 * @param {() => Promise<void>} main
 */
export async function whenStarted(url, main) {
  if (!process.argv[1] || realpathSync(process.argv[1]) !== fileURLToPath(url)) return;
  passSignalsOn();
  try {
    await main();
  } catch (error) {
    process.exitCode = reportFailure(error);
  }
}

/**
 * Makes signals reach a process that was started elsewhere, as they reach the commands above.
 *
 * @param {import("node:child_process").ChildProcess} child
 */
export function adopt(child) {
  running.add(child);
  child.once("exit", () => running.delete(child));
}

/**
 * Passes SIGINT, SIGTERM and SIGHUP on to what runs, and ends this script once that is gone. Without this a server
 * would outlive the script that started it.
 */
function passSignalsOn() {
  /** @type {Record<string, number>} */
  const numbers = { SIGINT: 2, SIGTERM: 15, SIGHUP: 1 };
  for (const [signal, number] of Object.entries(numbers)) {
    process.on(signal, () => {
      const ends = [...running].map((child) => new Promise((resolve) => child.once("exit", resolve)));
      for (const child of running) child.kill(/** @type {NodeJS.Signals} */ (signal));
      void Promise.all(ends).then(() => process.exit(128 + number));
    });
  }
}
