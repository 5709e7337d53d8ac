import { rmSync } from "node:fs";
import { rename, writeFile } from "node:fs/promises";
import { exitCodes } from "./exit-codes";

const signals = [
  ["SIGINT", exitCodes.interrupted],
  ["SIGTERM", exitCodes.terminated],
] as const;

/**
 * Puts `text` in the place of the file `file`: whole, or not at all.
 *
 * It is written beside its place and then moved there. Whatever goes wrong, and when the process is told to end
 * meanwhile, the draft is taken away and the old file is as it was.
 */
export async function replaceFile(file: string, text: string): Promise<void> {
  const draft = `${file}.${process.pid}.draft`;
  const listeners = signals.map(([signal, code]) => {
    const stop = (): void => {
      rmSync(draft, { force: true });
      process.exit(code);
    };
    process.on(signal, stop);
    return () => process.off(signal, stop);
  });
  try {
    await writeFile(draft, text, { flag: "wx" });
    await rename(draft, file);
  } catch (error) {
    rmSync(draft, { force: true });
    throw error;
  } finally {
    for (const stopListening of listeners) stopListening();
  }
}
