import type { TextEdit } from "../problem";
import type { ShotColumn } from "../table/shot-columns";
import { lineTable } from "../text-position";
import type { YamlMap, YamlNode } from "../yaml-text";
import { readYaml } from "../yaml-text";
import { applyEdits, lineEndOf } from "./apply-edits";
import { readSession } from "./read-session";
import type { Session } from "./session";
import { keysOf } from "./session-keys";
import { withoutPlaces } from "./without-places";
import { addEntry, addItem, entryOf, writtenInFlow, type YamlSource } from "./yaml-edits";

/** Something that a session file is to say of an export, of a column, or of a head. */
export type SessionStatement =
  /** How the export `file` is read, as `decimal: ","`. */
  | { readonly of: "source"; readonly file: string; readonly key: "delimiter" | "decimal" | "skip_lines" | "short_rows" | "duplicate_headers" | "units_row"; readonly value: string }
  /** A text that means missing, everywhere or in one column. */
  | { readonly of: "missing"; readonly column: ShotColumn | null; readonly text: string }
  /** The letters that tell the sides of a column. */
  | { readonly of: "sides"; readonly column: ShotColumn; readonly value: string }
  /** The header from which a column is read that is not mapped yet. */
  | { readonly of: "column"; readonly column: ShotColumn; readonly header: string }
  /** Another name under which the exports know a head. */
  | { readonly of: "head"; readonly head: string; readonly called: string };

/**
 * The edit that makes a session file say something, comments and layout kept; at most one stretch is changed.
 *
 * The edited text is read again: unless it is the same session but for what was to be said, and has no error more than
 * before, there is no edit.
 *
 * @param text a session file, with or without its byte order mark; the range is in the text without it.
 * @returns `null` where the session says it already, contradicts it, or is written in a way that cannot be changed safely.
 * @example statementEdit("session: a\nsources: a.csv\n", { of: "source", file: "a.csv", key: "decimal", value: '","' })?.text // '{ file: a.csv, decimal: "," }'
 */
export function statementEdit(text: string, statement: SessionStatement): TextEdit | null {
  const body = text.startsWith("\ufeff") ? text.slice(1) : text;
  const { value: root, problems } = readYaml(body);
  if (root?.kind !== "map" || problems.some(({ code }) => code === "yaml.syntax" || code === "yaml.tab")) return null;
  const edit = editOf({ body, lines: lineTable(body) }, root, statement);
  return edit !== null && isOnlySaid(body, edit, statement) ? edit : null;
}

function editOf(source: YamlSource, root: YamlMap, statement: SessionStatement): TextEdit | null {
  switch (statement.of) {
    case "source": {
      const node = sourceNode(root, statement.file);
      return node === null ? null : stateBeside(source, node, "file", statement.key, statement.value);
    }
    case "missing": {
      const word = JSON.stringify(statement.text);
      if (statement.column === null) return listed(source, root, entryOf(root, "missing"), word, () => topLevel(source, root, `missing: [${word}]`));
      const node = entryOf(entryOf(root, "columns"), statement.column);
      return node === null ? null : listed(source, root, entryOf(node, "missing"), word, () => stateBeside(source, node, "from", "missing", `[${word}]`));
    }
    case "sides": {
      const node = entryOf(entryOf(root, "columns"), statement.column);
      return node === null || entryOf(node, "positive") !== null ? null : stateBeside(source, node, "from", "sides", statement.value);
    }
    case "column": {
      const entry = `${statement.column}: ${JSON.stringify(statement.header)}`;
      const columns = entryOf(root, "columns");
      if (columns === null) return topLevel(source, root, `columns: { ${entry} }`);
      return columns.kind === "map" && entryOf(columns, statement.column) === null ? addEntry(source, columns, columns.entries.at(-1)?.key ?? "", entry) : null;
    }
    case "head": {
      const node = entryOf(entryOf(root, "heads"), statement.head);
      if (node?.kind !== "map") return null;
      const word = JSON.stringify(statement.called);
      return listed(source, root, entryOf(node, "called"), word, () => addEntry(source, node, node.entries.at(-1)?.key ?? "", `called: [${word}]`));
    }
  }
}

/** The node of the export `file` under `sources`. */
function sourceNode(root: YamlMap, file: string): YamlNode | null {
  const sources = entryOf(root, "sources");
  const nodes = sources === null ? [] : sources.kind === "list" ? sources.items : [sources];
  return nodes.find((node) => (node.kind === "scalar" ? node : entryOf(node, "file"))?.kind === "scalar" && textOf(node) === file) ?? null;
}

function textOf(node: YamlNode): string | null {
  const file = node.kind === "scalar" ? node : entryOf(node, "file");
  return file?.kind === "scalar" ? file.text.trim() : null;
}

/** `key: value` beside what a node says already: a scalar becomes a map in which it stands under `main`. */
function stateBeside(source: YamlSource, node: YamlNode, main: string, key: string, value: string): TextEdit | null {
  if (node.kind === "scalar") return { range: node.range, text: `{ ${main}: ${writtenInFlow(source, node)}, ${key}: ${value} }` };
  if (node.kind !== "map") return null;
  const stated = entryOf(node, key);
  if (stated === null) return addEntry(source, node, main, `${key}: ${value}`);
  return stated.kind === "scalar" ? { range: stated.range, text: value } : null;
}

/** A word added to a list that is there, to a single word, or with `begin` where there is nothing yet. */
function listed(source: YamlSource, root: YamlMap, node: YamlNode | null, word: string, begin: () => TextEdit | null): TextEdit | null {
  if (node === null) return begin();
  if (node.kind === "list") return addItem(source, node, word);
  if (node.kind === "map" || root.entries.length === 0) return null;
  return { range: node.range, text: `[${writtenInFlow(source, node)}, ${word}]` };
}

/** A new key of the session: behind the last of those that usually stand before it. */
function topLevel(source: YamlSource, root: YamlMap, entry: string): TextEdit | null {
  const order = keysOf("session");
  const key = entry.slice(0, entry.indexOf(":")) as (typeof order)[number];
  const before = root.entries.filter((each) => (order as readonly string[]).indexOf(each.key) < order.indexOf(key)).at(-1) ?? root.entries.at(-1);
  if (before === undefined || root.entries[0]!.keyRange.start.column !== 1) return null;
  const { body, lines } = source;
  const after = root.entries[root.entries.indexOf(before) + 1];
  if (after !== undefined) {
    const at = lines.positionAt(lines.offsetAt({ line: after.keyRange.start.line, column: 1 }));
    return { range: { start: at, end: at }, text: `${entry}${lineEndOf(body)}` };
  }
  const at = lines.positionAt(body.length);
  return { range: { start: at, end: at }, text: `${/(?:^|[\r\n])$/u.test(body) ? "" : lineEndOf(body)}${entry}${lineEndOf(body)}` };
}

function isOnlySaid(body: string, edit: TextEdit, statement: SessionStatement): boolean {
  const [before, after] = [readSession(body), readSession(applyEdits(body, [edit]))];
  const errors = (problems: typeof before.problems): number => problems.filter(({ severity }) => severity === "error").length;
  if (before.value === null || after.value === null || saysAlready(before.value, statement) || errors(after.problems) > errors(before.problems)) return false;
  return withoutPlaces(before.value) !== withoutPlaces(after.value) && withoutPlaces(leftOut(before.value, statement)) === withoutPlaces(leftOut(after.value, statement));
}

/** True for a text or a name that is listed already, where adding it once more would change the session all the same. */
function saysAlready({ missing, columns, heads }: Session, statement: SessionStatement): boolean {
  switch (statement.of) {
    case "missing":
      return (statement.column === null ? missing : (columns.find((each) => each.column === statement.column)?.missing ?? [])).includes(statement.text);
    case "head":
      return heads.some(({ name, called }) => name === statement.called || called.includes(statement.called));
    default:
      return false;
  }
}

/** A session without what the statement is about. */
function leftOut(session: Session, statement: SessionStatement): unknown {
  switch (statement.of) {
    case "source":
      return { ...session, sources: session.sources.map((each) => (each.file === statement.file ? { ...each, ...unread[statement.key] } : each)) };
    case "missing":
      if (statement.column === null) return { ...session, missing: session.missing.filter((word) => word !== statement.text) };
      return { ...session, columns: session.columns.map((each) => (each.column === statement.column ? { ...each, missing: each.missing.filter((word) => word !== statement.text) } : each)) };
    case "sides":
      return { ...session, columns: session.columns.map((each) => (each.column === statement.column ? { ...each, sides: null, directionAssumed: true } : each)) };
    case "column":
      return { ...session, columns: session.columns.filter((each) => each.column !== statement.column) };
    case "head":
      return { ...session, heads: session.heads.map((each) => (each.name === statement.head ? { ...each, called: each.called.filter((name) => name !== statement.called) } : each)) };
  }
}

const unread = {
  delimiter: { delimiter: null },
  decimal: { decimal: null },
  skip_lines: { skipLines: 0 },
  short_rows: { shortRows: null },
  duplicate_headers: { duplicateHeaders: null },
  units_row: { unitsRow: null },
} as const;
