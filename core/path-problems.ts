import { problemKind as kind, shown } from "./problem-kind";

const relative = "a path is relative to the file it stands in, with / between folders: data/spring.csv or ../data/spring.csv";

/** What can be wrong with a path as written, before any file is looked at. Messages show the given text alone. */
export const pathProblems = {
  "path.empty": kind("error", () => "a path is missing here", () => relative),
  "path.too-long": kind(
    "error",
    (f: { path: string; length: number; most: number }) => `the path ${shown(f.path)} has ${f.length} characters`,
    (f) => `at most ${f.most} characters`,
  ),
  "path.character": kind(
    "error",
    (f: { path: string; character: string }) => `the path ${shown(f.path)} has ${shown(f.character)} in it`,
    () => "rename the file: control and direction characters and * < > | \" cannot be in a path",
  ),
  "path.absolute": kind("error", (f: { path: string }) => `${shown(f.path)} is not a relative path`, () => relative),
  "path.outside-root": kind(
    "error",
    (f: { path: string }) => `${shown(f.path)} leads, or could be read as leading, outside the folder that may be read`,
    () => "files are read from the workspace folder, or the notebook's folder when there is none; move the file there",
  ),
  "path.backslash": kind(
    "error",
    (f: { path: string; instead: string }) => `the path ${shown(f.path)} has a backslash in it`,
    (f) => `write ${shown(f.instead)}: / stands between folders on every system`,
  ),
  "path.segment": kind(
    "error",
    (f: { path: string; instead: string }) => `the path ${shown(f.path)} takes a detour through an empty folder name, . or ..`,
    (f) => `write ${shown(f.instead)}`,
  ),
  "path.reserved-name": kind(
    "error",
    (f: { path: string; segment: string }) => `the path ${shown(f.path)} has ${shown(f.segment)} in it, which not every system can open`,
    () => "rename it: no device names (con, nul, com1), no colon, no short names (name~1), no space or full stop at the end",
  ),
} as const;
