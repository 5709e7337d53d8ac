import { runCommandLine } from "../../server/cli/command-line";
import type { Terminal } from "../../server/cli/command";
import type { ExitCode } from "../../server/cli/exit-codes";
import { smallFiles } from "./small-session";
import { tempFolder } from "./temp-folder";

/** What a command left behind. */
export interface Finished {
  readonly code: ExitCode;
  /** What went to standard output. */
  readonly out: string;
  /** What went to standard error. */
  readonly said: string;
}

/** Runs the command line in a folder, 100 columns wide and with a clock that stands still; what it writes is kept. */
export async function runIn(folder: string, given: readonly string[], more: Partial<Terminal> = {}): Promise<Finished> {
  let out = "";
  let said = "";
  const code = await runCommandLine(given, {
    folder,
    columns: 100,
    out: (text) => Promise.resolve(void (out += text)),
    say: (text) => Promise.resolve(void (said += text)),
    clock: () => 0,
    onFault: (fault) => {
      throw fault;
    },
    ...more,
  });
  return { code, out, said };
}

/** Makes a folder that is a repository, with the small session in `s/` and the given files. */
export function repository(files: Readonly<Record<string, string | Uint8Array>>): string {
  return tempFolder({ ".git/HEAD": "", ...smallFiles, ...files });
}
