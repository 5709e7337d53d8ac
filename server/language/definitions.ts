import { folderOf, resolvePath } from "../../core/path";
import { lineTable, textStart, type TextRange } from "../../core/text-position";
import type { YamlEntry, YamlNode } from "../../core/yaml-text";
import type { CellPlace, FilePlace, Place } from "./answers";
import type { NotebookView } from "./notebook-view";
import { everyName, nameAt, placeOf, sameAs, type PlacedName } from "./references";
import type { SessionView } from "./session-view";

/** Gives what is known of a session file by its path below the root. */
export type SessionOf = (path: string) => Promise<SessionView | null>;

/**
 * Where the name at an offset is declared: a cell at its first line, a constant, a derived column at its entry; a choice
 * in the front matter; a shot
 * column in the session files behind the table; a head in `heads`; a path's file.
 */
export async function definitionsAt(view: NotebookView, cell: number, offset: number, sessionOf: SessionOf): Promise<readonly Place[]> {
  const name = nameAt(view, cell, offset);
  if (cell === view.notebook.frontIndex && name === null) return frontDefinitions(view, offset);
  if (name === null) return [];
  const { symbol } = name;
  if (name.role === "path") return fileStarts(view, name.name);
  if (symbol === null) return [];
  const value = /^value:shot column:([^:]*):/u.exec(symbol)?.[1];
  if (value !== undefined) return inSessions(name.files, sessionOf, (session) => valueDefinition(session, value, name.name));
  const shotColumn = shotColumnOf(name);
  if (shotColumn !== null) return inSessions(name.files, sessionOf, (session) => columnDefinition(session, shotColumn));
  if (name.role === "cell" && name.name === "shots") return frontShots(view);
  const made = /^made:(\d+):(\d+):/u.exec(symbol);
  if (made !== null) return madeDefinition(view, Number(made[1]), Number(made[2]));
  return sameAs(view, name).filter((each) => each.isDeclaration).map(placeOf);
}

/** The shot column that a name stands for; `null` for any other name. */
function shotColumnOf(name: PlacedName): string | null {
  const prefix = "shot column:";
  if (name.role === "value" || !name.symbol?.startsWith(prefix)) return null;
  return name.symbol.slice(prefix.length);
}

/** The verb that makes a column, or the first line of a cell of which no more is known. */
function madeDefinition(view: NotebookView, cell: number, offset: number): readonly CellPlace[] {
  const name = offset > 0 ? nameAt(view, cell, offset) : everyName(view).find((each) => each.cell === cell && each.isDeclaration);
  return name ? [placeOf(name)] : [];
}

async function inSessions(files: readonly string[], sessionOf: SessionOf, find: (session: SessionView) => readonly FilePlace[]): Promise<readonly FilePlace[]> {
  const sessions = await Promise.all(files.map((path) => sessionOf(path)));
  return sessions.flatMap((session) => (session === null ? [] : find(session)));
}

/**
 * The column's line under `columns`, from where its header leads on to the export; of a column without a line its header
 * in each export, else where it would be stated.
 */
function columnDefinition({ path, tree, exports }: SessionView, name: string): readonly FilePlace[] {
  const columns = entryOf(tree, "columns");
  const own = entryOf(columns?.value, name);
  if (own !== undefined) return [{ path, range: own.keyRange }];
  const headers = exports.flatMap((each) => each.headers.filter((one) => one.name === name).map(({ range }) => ({ path: each.path, range })));
  if (headers.length > 0) return headers;
  const stated = statedBy[name]?.map((key) => entryOf(tree, key)).find((entry) => entry !== undefined);
  return [{ path, range: (stated ?? columns)?.keyRange ?? textStart }];
}

/** Keys of a session file that state a column, for those that need no header. */
const statedBy: Readonly<Record<string, readonly string[]>> = {
  session: ["session"],
  head: ["heads", "sources"],
  set: ["heads"],
  player: ["player"],
  ball: ["ball"],
  intent: ["shots"],
  note: ["shots"],
};

/** Where a value of a shot column is stated: a head's entry, the session's name; else the column. */
function valueDefinition(session: SessionView, column: string, value: string): readonly FilePlace[] {
  const { path, tree } = session;
  if (column === "head") {
    const head = entryOf(entryOf(tree, "heads")?.value, value);
    if (head !== undefined) return [{ path, range: head.keyRange }];
  }
  if (column === "session") {
    const name = entryOf(tree, "session");
    const isIt = name?.value.kind === "scalar" && name.value.text === value;
    return isIt ? [{ path, range: name.value.range }] : [];
  }
  return columnDefinition(session, column);
}

function entryOf(node: YamlNode | null | undefined, key: string): YamlEntry | undefined {
  return node?.kind === "map" ? node.entries.find((entry) => entry.key === key) : undefined;
}

/** The session files of a path as written in a cell, each at its beginning. */
function fileStarts(view: NotebookView, path: string): readonly FilePlace[] {
  const files = (view.sources.byPath.get(path)?.files ?? []).map((file) => file.path).filter((file) => file.endsWith(".session.yaml"));
  if (files.length > 0 || path.includes("*")) return files.map((file) => ({ path: file, range: textStart }));
  return startOf(view, path);
}

function startOf(view: NotebookView, path: string): readonly FilePlace[] {
  const place = resolvePath(folderOf(view.path), path).value;
  return place === null ? [] : [{ path: place, range: textStart }];
}

/** Where the front matter names the sessions of `shots`. */
function frontShots(view: NotebookView): readonly CellPlace[] {
  return view.notebook.front.shots.map(({ range }) => frontPlace(view, range));
}

function frontPlace(view: NotebookView, range: TextRange): CellPlace {
  const cell = view.notebook.frontIndex;
  const lines = lineTable(view.cells[cell]!.text);
  return { cell, from: lines.offsetAt(range.start), to: lines.offsetAt(range.end) };
}

/** The session files that the front matter names at an offset. */
function frontDefinitions(view: NotebookView, offset: number): readonly FilePlace[] {
  const named = view.notebook.front.shots.find(({ range }) => {
    const { from, to } = frontPlace(view, range);
    return from <= offset && offset <= to;
  });
  if (named === undefined) return [];
  if (!named.path.includes("*")) return startOf(view, named.path);
  const folder = resolvePath(folderOf(view.path), named.path.replace(/\/?\*\.session\.yaml$/u, "") || ".").value;
  const files = view.sources.shots?.files ?? [];
  return files.filter(({ path }) => path.endsWith(".session.yaml") && folderOf(path) === folder).map(({ path }) => ({ path, range: textStart }));
}
