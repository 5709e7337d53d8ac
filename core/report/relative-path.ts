/**
 * The path of a file from a folder, both relative to one root and in POSIX form.
 *
 * @example relativePath("a/b", "a/c/x.csv") // "../c/x.csv"
 */
export function relativePath(folder: string, path: string): string {
  const from = folder.split("/").filter((part) => part !== "" && part !== ".");
  const to = path.split("/");
  let shared = 0;
  while (shared < from.length && shared < to.length - 1 && from[shared] === to[shared]) shared++;
  return [...from.slice(shared).map(() => ".."), ...to.slice(shared)].join("/");
}
