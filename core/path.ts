import type { Checked, Problem } from "./problem";
import { problem } from "./problem";
import { lineTable } from "./text-position";

/** The longest path, in UTF-16 units: within what common file systems take. */
const mostPathText = 1000;

/** Names that some systems keep for devices, with or without an extension; the digits may be superscripts. */
const deviceName = /^(?:con|prn|aux|nul|conin\$|conout\$|(?:com|lpt)[0-9\u00b9\u00b2\u00b3])(?:[ .].*)?$/i;

/** The alias that some systems give a long name: `PROGRA~1`, `SPRING~2.CSV`. */
const shortName = /^[^.]{1,6}~[0-9]{1,6}(?:\.[^.]{0,3})?$/;

/** Control and direction characters, halves of a character, and what some systems keep for patterns and pipes. */
const badCharacter =
  // oxlint-disable-next-line no-control-regex -- refusing control characters is the purpose
  /[\u0000-\u001f\u007f-\u009f\u200e\u200f\u2028-\u202e\u2060-\u2069\ufeff*<>|"]|\p{Surrogate}/u;

/**
 * A path as written, checked by grammar alone: relative, `/` between folders, openable on every system.
 *
 * `../` may stand at the beginning; whether it stays inside the root is known to `resolvePath`. The value is the path
 * without a leading `./` ("" for the folder itself), or `null` when there is a problem. The range of a problem is in
 * `text`. No file is looked at.
 *
 * @example checkPath("./data/spring.csv").value // "data/spring.csv"
 */
export function checkPath(text: string): Checked<string | null> {
  return checkedFrom(text, Infinity);
}

/**
 * The path, relative to the root, of what `text` names in a file of the folder `folder`; `null` with a problem when
 * the path is malformed or leads outside the root. Work on strings alone: links are the file port's to check.
 *
 * @param folder a folder relative to the root, as `folderOf` gives it; "" is the root itself.
 * @example resolvePath("notebooks", "../data/spring.csv").value // "data/spring.csv"
 */
export function resolvePath(folder: string, text: string): Checked<string | null> {
  const above = folder === "" ? [] : folder.split("/");
  const { value, problems } = checkedFrom(text, above.length);
  if (value === null) return { value, problems };
  const below = value === "" ? [] : value.split("/");
  while (below[0] === "..") {
    below.shift();
    above.pop();
  }
  return { value: [...above, ...below].join("/"), problems };
}

/** The folder of the file `path`, relative to the same root; "" is the root itself. */
export function folderOf(path: string): string {
  return path.slice(0, Math.max(0, path.lastIndexOf("/")));
}

function checkedFrom(text: string, foldersAbove: number): Checked<string | null> {
  const fault = faultOf(text, foldersAbove);
  if (fault !== null) return { value: null, problems: [fault] };
  return { value: withoutDetours(text), problems: [] };
}

/** The first thing wrong with the path, from the gravest on; `null` when nothing is. */
function faultOf(path: string, foldersAbove: number): Problem | null {
  const range = lineTable(path).rangeAt(0, path.length);
  if (path === "") return problem("path.empty", {}, range);
  if (path.length > mostPathText) return problem("path.too-long", { path, length: path.length, most: mostPathText }, range);
  const character = badCharacter.exec(path)?.[0];
  if (character !== undefined) return problem("path.character", { path, character }, range);
  // A drive letter is a scheme of one letter to this pattern.
  if (/^(?:[/\\~$]|[a-z][a-z0-9+-]*:)/i.test(path)) return problem("path.absolute", { path }, range);
  if (couldLeadOutside(path, foldersAbove)) return problem("path.outside-root", { path }, range);
  const instead = withoutDetours(path);
  if (path.includes("\\")) return problem("path.backslash", { path, instead }, range);
  if (instead !== path && instead !== path.replace(/^\.\/|^\.$/, "")) return problem("path.segment", { path, instead }, range);
  const segment = path.split("/").find((name) => !isPortable(name));
  return segment === undefined ? null : problem("path.reserved-name", { path, segment }, range);
}

/** True when some reader, one that decodes escapes or takes `\` for `/`, would climb too far. */
function couldLeadOutside(path: string, foldersAbove: number): boolean {
  let decoded = path;
  for (let before = ""; before !== decoded; ) {
    before = decoded;
    decoded = decoded.replace(/%(2e|2f|5c|25)/gi, (_, code: string) => String.fromCharCode(Number.parseInt(code, 16)));
  }
  const segments = decoded.split(/[/\\]/);
  if (decoded !== path && segments.includes("..")) return true;
  if (segments.some((name) => /^\.{3,}$/.test(name))) return true;
  let depth = foldersAbove;
  for (const name of segments) {
    if (name === "..") depth--;
    else if (name !== "." && name !== "") depth++;
    if (depth < 0) return true;
  }
  return false;
}

/** The path with `/` throughout and without `.`, empty and undone segments; leading `..` stay. */
function withoutDetours(path: string): string {
  const kept: string[] = [];
  for (const name of path.split(/[/\\]/)) {
    if (name === "" || name === ".") continue;
    if (name === ".." && kept.length > 0 && kept.at(-1) !== "..") kept.pop();
    else kept.push(name);
  }
  return kept.join("/");
}

function isPortable(name: string): boolean {
  if (name === "." || name === "..") return true;
  return !name.includes(":") && !/[ .]$/.test(name) && !deviceName.test(name) && !shortName.test(name);
}
