import { exitCodes } from "./exit-codes";
import { runCommandLine } from "./command-line";

// One catch at the edge: a fault of the program itself is said in one line, with its own exit code.
process.on("SIGINT", () => process.exit(exitCodes.interrupted));
process.on("SIGTERM", () => process.exit(exitCodes.terminated));
// A reader that closes the pipe early (`| head`) is no fault of anybody's.
process.stdout.on("error", (error: NodeJS.ErrnoException) => {
  if (error.code === "EPIPE") process.exit(exitCodes.interrupted);
  throw error;
});

runCommandLine(process.argv.slice(2), {
  folder: process.cwd(),
  out: (text) => new Promise((resolve) => process.stdout.write(text, () => resolve())),
  say: (text) => new Promise((resolve) => process.stderr.write(text, () => resolve())),
  clock: () => performance.now(),
}).then(
  (code) => {
    process.exitCode = code;
  },
  (error: unknown) => {
    process.stderr.write(`fairstrike: internal error: ${error instanceof Error ? error.message : String(error)}\n`);
    if (process.env["FAIRSTRIKE_STACK"] !== undefined && error instanceof Error) process.stderr.write(`${error.stack ?? ""}\n`);
    process.exitCode = exitCodes.internal;
  },
);
