import { createHash } from "node:crypto";
import { constants, type BigIntStats } from "node:fs";
import { open, readdir, realpath, stat } from "node:fs/promises";
import path from "node:path";
import type { FileFault, FilePort, FileRead } from "../core/file-port";
import { dropUnused, putLast } from "../core/kept-entries";

/** Bytes read at a time: between two reads the thread is given back, and hashing takes a few milliseconds. */
const chunkBytes = 8 * 1024 * 1024;

/**
 * Milliseconds after which a file that was not touched is trusted to be the same as long as its times are. Below it
 * a second change could have the same time: FAT counts in steps of 2 seconds.
 */
const settledMilliseconds = 2_000;

/** So many files are remembered, those that were read last: a forgotten one is read once more. */
const mostRemembered = 1_000;

/**
 * What is known of files that were read, by real path, so that an unchanged one need not be read for its digest. One that
 * was read whole by some and in part by others has a digest for each.
 */
const remembered = new Map<string, { readonly stamp: string; readonly digests: readonly string[] }>();

type Place = { readonly ok: true; readonly real: string } | { readonly ok: false; readonly reason: FileFault };

/**
 * A file port on the folder `root` of this machine.
 *
 * Links are resolved before anything is opened, and a path whose real place is outside the real root is refused.
 * Only ordinary files are read, and none larger than `mostBytes`. A file that changes while it is read is read again,
 * once. The digest of a file that is read in part is of that part, of the size of the whole, and of the moment at which it
 * was last changed.
 */
export function nodeFiles(root: string, mostBytes: number): FilePort {
  /** The real place of a path; the name itself must be spelled as the file system has it, which not all ask for. */
  async function placeOf(relative: string): Promise<Place> {
    const segments = relative.split("/");
    const base = await realpath(root);
    let real: string;
    try {
      real = await realpath(path.join(root, ...segments));
    } catch (error) {
      const reason = faultOf(error);
      return { ok: false, reason: reason === "missing" ? await whyMissing(base, segments) : reason };
    }
    if (!isInside(base, real)) return { ok: false, reason: "outside" };
    const spelled = path.relative(base, real).split(path.sep).join("/");
    const otherCase = spelled.normalize() !== relative.normalize() && plainName(spelled) === plainName(relative);
    return otherCase ? { ok: false, reason: "other case" } : { ok: true, real };
  }

  /** Why nothing is at a path, from the deepest of its folders that is there. */
  async function whyMissing(base: string, segments: readonly string[]): Promise<FileFault> {
    for (let depth = segments.length - 1; depth >= 0; depth--) {
      const folder = await realpath(path.join(root, ...segments.slice(0, depth))).catch(() => null);
      if (folder === null) continue;
      if (!isInside(base, folder)) return "outside";
      const names = await readdir(folder).catch((): string[] => []);
      const wanted = segments[depth]!;
      return !names.includes(wanted) && names.some((name) => plainName(name) === plainName(wanted)) ? "other case" : "missing";
    }
    return "missing";
  }

  async function readOnce(relative: string, most: number): Promise<FileRead> {
    const place = await placeOf(relative);
    if (!place.ok) return place;
    const { real } = place;
    // Looked at before it is opened: opening alone does something to some devices, and waits at a pipe.
    if (!(await stat(real)).isFile()) return { ok: false, reason: "not a file" };
    const handle = await open(real, constants.O_RDONLY | (constants.O_NONBLOCK ?? 0) | (constants.O_NOFOLLOW ?? 0));
    try {
      const before = await handle.stat({ bigint: true });
      // A folder on the way may have become a link since: what was opened must be what is there, inside the root.
      const again = await placeOf(relative);
      if (!again.ok || stampOf(await stat(again.real, { bigint: true })) !== stampOf(before)) return { ok: false, reason: "changing" };
      if (!before.isFile()) return { ok: false, reason: "not a file" };
      if (before.size > mostBytes) return { ok: false, reason: "too large" };
      const isPart = before.size > most;
      const bytes = new Uint8Array(isPart ? most : Number(before.size));
      const hash = createHash("sha256");
      for (let filled = 0; filled < bytes.length; ) {
        const { bytesRead } = await handle.read(bytes, filled, Math.min(chunkBytes, bytes.length - filled), filled);
        if (bytesRead === 0) return { ok: false, reason: "changing" };
        hash.update(bytes.subarray(filled, filled + bytesRead));
        filled += bytesRead;
      }
      if (stampOf(await handle.stat({ bigint: true })) !== stampOf(before)) return { ok: false, reason: "changing" };
      if (isPart) hash.update(`${before.size} ${before.mtimeNs}`);
      const digest = hash.digest("hex");
      remember(real, before, digest);
      return isPart ? { ok: true, bytes, digest, size: Number(before.size) } : { ok: true, bytes, digest };
    } finally {
      await handle.close();
    }
  }

  async function read(relative: string, most = Infinity): Promise<FileRead> {
    try {
      const first = await readOnce(relative, most);
      return !first.ok && first.reason === "changing" ? await readOnce(relative, most) : first;
    } catch (error) {
      return { ok: false, reason: faultOf(error) };
    }
  }

  async function list(folder: string): Promise<readonly string[] | null> {
    try {
      const place = await placeOf(folder);
      if (!place.ok) return null;
      const entries = await readdir(place.real, { withFileTypes: true });
      return entries
        .filter((entry) => entry.isFile() || entry.isSymbolicLink())
        .map((entry) => entry.name)
        .sort();
    } catch {
      // A folder that cannot be listed is reported by the caller, at the path that named it.
      return null;
    }
  }

  async function isCurrent(relative: string, digest: string): Promise<boolean> {
    try {
      const place = await placeOf(relative);
      const known = place.ok ? remembered.get(place.real) : undefined;
      return place.ok && known?.digests.includes(digest) === true && known.stamp === stampOf(await stat(place.real, { bigint: true }));
    } catch {
      // Whatever is wrong with it is found when it is read.
      return false;
    }
  }

  return { read, list, isCurrent };
}

function isInside(base: string, real: string): boolean {
  const way = path.relative(base, real);
  return way !== ".." && !way.startsWith(`..${path.sep}`) && !path.isAbsolute(way);
}

/** A name without what some file systems do not tell apart: case, and how an accent is written. */
function plainName(name: string): string {
  return name.normalize().toLowerCase();
}

/** Equal for a file that was not replaced, written to or changed in size. */
function stampOf({ dev, ino, size, mtimeNs, ctimeNs }: BigIntStats): string {
  return [dev, ino, size, mtimeNs, ctimeNs].join(" ");
}

function remember(real: string, stats: BigIntStats, digest: string): void {
  const changed = Math.max(Number(stats.mtimeMs), Number(stats.ctimeMs));
  if (Date.now() - changed <= settledMilliseconds) return;
  const stamp = stampOf(stats);
  const known = remembered.get(real);
  const others = known?.stamp === stamp ? known.digests : [];
  // A file is read whole, or up to one limit.
  putLast(remembered, real, { stamp, digests: [digest, ...others.filter((other) => other !== digest)].slice(0, 2) });
  dropUnused(remembered, () => false, mostRemembered);
}

function faultOf(error: unknown): FileFault {
  const code = error instanceof Error && "code" in error ? error.code : undefined;
  return code === "ENOENT" || code === "ENOTDIR" ? "missing" : "unreadable";
}
