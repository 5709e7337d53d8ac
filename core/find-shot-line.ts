import type { FilePort } from "./file-port";
import { folderOf, resolvePath } from "./path";
import type { InputFile } from "./session-loader";
import { lineOfShot } from "./session/line-of-shot";
import { readSession } from "./session/read-session";
import { decodeText } from "./table/decode-text";

/** Where a shot stands in the exports as they are now. */
export interface ShotLine {
  /** The export, relative to the root. */
  readonly path: string;
  /** Counted from 1. */
  readonly line: number;
  /** The session file and its exports, with the digests of what was read. */
  readonly inputs: readonly InputFile[];
}

/** The line of the export of a session file on which a shot stands; `null` when it cannot be told, whatever the reason. */
export async function findShotLine(files: FilePort, sessionFile: string, shot: number): Promise<ShotLine | null> {
  const read = await files.read(sessionFile);
  if (!read.ok) return null;
  const text = decodeText(read.bytes).value;
  const session = text === null ? null : readSession(text).value;
  if (session === null) return null;
  const inputs: InputFile[] = [{ path: sessionFile, digest: read.digest }];
  const exports = new Map<string, Uint8Array>();
  const places = new Map<string, string>();
  for (const { file } of session.sources) {
    const place = resolvePath(folderOf(sessionFile), file).value;
    const found = place === null ? null : await files.read(place);
    if (place === null || found?.ok !== true) return null;
    places.set(file, place);
    inputs.push({ path: place, digest: found.digest });
    exports.set(file, found.bytes);
  }
  const line = lineOfShot(session, exports, shot);
  return line === null ? null : { path: places.get(line.file)!, line: line.line, inputs };
}
