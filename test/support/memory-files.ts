import { createHash } from "node:crypto";
import type { FilePort } from "../../core/file-port";

/** Files held in memory, by path relative to the root. */
export interface MemoryFiles extends Required<FilePort> {
  /** Puts a file, given as text or as bytes, in the place of what was there; `null` takes it away. */
  readonly put: (path: string, content: string | Uint8Array | null) => void;
  /** Paths that were read, in order. */
  readonly reads: string[];
}

/** Returns a file port on files held in memory; it can tell whether one is current, as a real one can. */
export function memoryFiles(given: Readonly<Record<string, string | Uint8Array>>): MemoryFiles {
  const files = new Map<string, Uint8Array>();
  const reads: string[] = [];
  const put: MemoryFiles["put"] = (path, content) => {
    if (content === null) files.delete(path);
    else files.set(path, typeof content === "string" ? new TextEncoder().encode(content) : content);
  };
  const digestOf = (bytes: Uint8Array): string => createHash("sha256").update(bytes).digest("hex");
  for (const [path, content] of Object.entries(given)) put(path, content);
  return {
    put,
    reads,
    read: (path) => {
      reads.push(path);
      const bytes = files.get(path);
      return Promise.resolve(bytes === undefined ? { ok: false, reason: "missing" } : { ok: true, bytes, digest: digestOf(bytes) });
    },
    list: (folder) => {
      const start = folder === "" || folder === "." ? "" : `${folder}/`;
      const names = [...files.keys()].filter((path) => path.startsWith(start)).map((path) => path.slice(start.length));
      return Promise.resolve(names.length === 0 ? null : names.filter((name) => !name.includes("/")).sort());
    },
    isCurrent: (path, digest) => {
      const bytes = files.get(path);
      return Promise.resolve(bytes !== undefined && digestOf(bytes) === digest);
    },
  };
}
