import { existsSync } from "node:fs";
import path from "node:path";

/** A notebook's place on this machine: the root its data may come from, and its path below it. */
export interface FilePlace {
  readonly root: string;
  /** Relative to the root, POSIX. */
  readonly path: string;
}

/**
 * The place of the file `file`: below the root of its git repository, or in its own folder when it is in none.
 *
 * @param file an absolute path.
 */
export function findRoot(file: string): FilePlace {
  let folder = path.dirname(file);
  const own = folder;
  for (;;) {
    if (existsSync(path.join(folder, ".git"))) break;
    const above = path.dirname(folder);
    if (above === folder) {
      folder = own;
      break;
    }
    folder = above;
  }
  return { root: folder, path: path.relative(folder, file).split(path.sep).join("/") };
}
