import { createHash } from "node:crypto";
import { constants } from "node:fs";
import { open, readdir, realpath, stat } from "node:fs/promises";
import path from "node:path";
import type { FileFault, FilePort, FileRead } from "../core/file-port";

/**
 * A file port on the folder `root` of this machine.
 *
 * Links are resolved before anything is opened, and a path whose real place is outside the real root is refused.
 * Only regular files are read, and none larger than `mostBytes`. A file that changes while it is read is read again,
 * once.
 */
export function nodeFiles(root: string, mostBytes: number): FilePort {
  const realRoot = realpath(root);

  async function inside(relative: string): Promise<string | FileFault> {
    let real: string;
    try {
      real = await realpath(path.join(root, ...relative.split("/")));
    } catch (error) {
      return faultOf(error);
    }
    const base = await realRoot;
    const way = path.relative(base, real);
    return way === ".." || way.startsWith(`..${path.sep}`) || path.isAbsolute(way) ? "outside" : real;
  }

  async function readOnce(relative: string): Promise<FileRead | "changed"> {
    const real = await inside(relative);
    if (!path.isAbsolute(real)) return { ok: false, reason: real as FileFault };
    // Opening without blocking keeps a pipe from hanging the run; it is refused below as not being a file.
    const handle = await open(real, constants.O_RDONLY | (constants.O_NONBLOCK ?? 0) | (constants.O_NOFOLLOW ?? 0));
    try {
      const before = await handle.stat();
      if (!before.isFile()) return { ok: false, reason: "not a file" };
      if (before.size > mostBytes) return { ok: false, reason: "too large" };
      const bytes = new Uint8Array(before.size);
      let filled = 0;
      while (filled < bytes.length) {
        const { bytesRead } = await handle.read(bytes, filled, bytes.length - filled, filled);
        if (bytesRead === 0) return "changed";
        filled += bytesRead;
      }
      const after = await handle.stat();
      if (after.size !== before.size || after.mtimeMs !== before.mtimeMs) return "changed";
      return { ok: true, bytes, digest: digestOf(bytes) };
    } finally {
      await handle.close();
    }
  }

  async function read(relative: string): Promise<FileRead> {
    try {
      const first = await readOnce(relative);
      if (first !== "changed") return first;
      const second = await readOnce(relative);
      return second === "changed" ? { ok: false, reason: "unreadable" } : second;
    } catch (error) {
      return { ok: false, reason: faultOf(error) };
    }
  }

  async function list(folder: string): Promise<readonly string[] | null> {
    const real = await inside(folder);
    if (!path.isAbsolute(real)) return null;
    try {
      if (!(await stat(real)).isDirectory()) return null;
      const entries = await readdir(real, { withFileTypes: true });
      return entries
        .filter((entry) => entry.isFile() || entry.isSymbolicLink())
        .map((entry) => entry.name)
        .sort();
    } catch {
      // A folder that cannot be listed is reported by the caller, at the path that named it.
      return null;
    }
  }

  return { read, list };
}

/** The SHA-256 digest of some bytes, in hexadecimal. */
export function digestOf(bytes: Uint8Array): string {
  return createHash("sha256").update(bytes).digest("hex");
}

function faultOf(error: unknown): FileFault {
  const code = error instanceof Error && "code" in error ? error.code : undefined;
  if (code === "ENOENT" || code === "ENOTDIR") return "missing";
  if (code === "ELOOP") return "outside";
  return "unreadable";
}
