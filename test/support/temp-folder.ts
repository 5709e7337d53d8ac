import { mkdirSync, mkdtempSync, realpathSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { onTestFinished } from "vitest";

/** Makes a folder with the given files by relative path, taken away when the test is over; returns its real path. */
export function tempFolder(files: Readonly<Record<string, string | Uint8Array>> = {}): string {
  const folder = realpathSync(mkdtempSync(path.join(tmpdir(), "fairstrike-")));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  for (const [name, content] of Object.entries(files)) {
    const file = path.join(folder, name);
    mkdirSync(path.dirname(file), { recursive: true });
    writeFileSync(file, content);
  }
  return folder;
}
