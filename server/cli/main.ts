import { runCommandLine } from "./command-line";
import { exitCodes } from "./exit-codes";

/** Characters on a line where the output is no terminal. */
const usualColumns = 100;

// Nothing listens for SIGINT and SIGTERM while cells run: the thread is busy and would not hear them, whereas the system
// ends the process at once, which a shell sees as 130 and 143. `replaceFile` listens while a file is half written.

// A reader that closes the pipe early (`| head`) is no fault of anybody's.
for (const stream of [process.stdout, process.stderr]) {
  stream.on("error", (error: NodeJS.ErrnoException) => process.exit(error.code === "EPIPE" ? exitCodes.interrupted : exitCodes.internal));
}

function writeTo(stream: NodeJS.WriteStream): (text: string) => Promise<void> {
  return (text) => new Promise((resolve) => void stream.write(text, () => resolve()));
}

const wantsStack = process.env["FAIRSTRIKE_STACK"] !== undefined;
const say = writeTo(process.stderr);
const onFault = (fault: unknown): void => {
  if (wantsStack && fault instanceof Error) process.stderr.write(`${fault.stack ?? ""}\n`);
};

// One catch at the edge: a fault of the program itself is said in one line, with its own exit code.
runCommandLine(process.argv.slice(2), {
  folder: process.cwd(),
  // A terminal that does not know its width says 0.
  columns: process.stdout.columns || usualColumns,
  out: writeTo(process.stdout),
  say,
  clock: () => performance.now(),
  onFault,
}).then(
  (code) => {
    process.exitCode = code;
  },
  (fault: unknown) => {
    process.stderr.write(`fairstrike: internal error: ${whatHappened(fault)}; FAIRSTRIKE_STACK=1 shows where\n`);
    onFault(fault);
    process.exitCode = exitCodes.internal;
  },
);

/** The message of a fault. Messages of the system hold paths of this machine, so of those only the code is said. */
function whatHappened(fault: unknown): string {
  if (!(fault instanceof Error)) return "something that is no error was thrown";
  return "syscall" in fault && "code" in fault ? String(fault.code) : fault.message;
}
