import { problem } from "../problem";
import type { DecimalMark, Delimiter } from "../table/delimited-text";
import type { YamlNode } from "../yaml-text";
import type { NodeReader } from "./node-reader";
import type { ShotOrder, SourceFile } from "./session";
import { keysOf } from "./session-keys";

const orders: readonly ShotOrder[] = ["shot", "time", "file", "session shot"];

const delimiters: Readonly<Record<string, Delimiter>> = { comma: ",", semicolon: ";", tab: "\t", bar: "|", ",": ",", ";": ";", "|": "|" };

/** The `sources` of a session: one export or several, each a path or a map with what is to be known for reading it. */
export function readSources(reader: NodeReader, node: YamlNode | undefined): SourceFile[] {
  const sources = reader.list(node).flatMap((item) => readSource(reader, item) ?? []);
  const lines = new Map<string, number>();
  return sources.filter((source) => {
    const line = lines.get(source.file);
    if (line === undefined) lines.set(source.file, source.fileRange.start.line);
    else reader.problems.push(problem("session.stated-twice", { what: "file", name: source.file, first: `line ${line}` }, source.fileRange));
    return line === undefined;
  });
}

function readSource(reader: NodeReader, node: YamlNode): SourceFile | null {
  if (node.kind === "scalar") {
    const file = reader.text(node, "the file of a source");
    return file === null ? null : { ...plainSource, file, fileRange: node.range, orderRange: node.range };
  }
  const where = "a source";
  const entries = reader.entries(node, where, keysOf("source"));
  if (node.kind !== "map") return null;
  const fileNode = entries.get("file")?.value;
  const file = fileNode === undefined ? reader.missingKey("file", where, node) : reader.text(fileNode, "the file of a source");
  const delimiter = reader.choice(entries.get("delimiter")?.value, "delimiter", ["comma", "semicolon", "tab", "bar", ",", ";", "|"]);
  const decimal: DecimalMark | null = reader.choice(entries.get("decimal")?.value, "decimal mark", [".", ","]);
  const source = {
    head: reader.text(entries.get("head")?.value, "the head of a source"),
    order: reader.choice(entries.get("order")?.value, "order", orders),
    delimiter: delimiter === null ? null : (delimiters[delimiter] ?? null),
    decimal,
    skipLines: reader.whole(entries.get("skip_lines")?.value, "skip_lines", 0, 1000) ?? 0,
    shortRows: reader.choice(entries.get("short_rows")?.value, "answer to short_rows", ["missing"] as const),
    duplicateHeaders: reader.choice(entries.get("duplicate_headers")?.value, "answer to duplicate_headers", ["number"] as const),
    unitsRow: reader.truth(entries.get("units_row")?.value, "answer to units_row"),
  };
  if (file === null || fileNode === undefined) return null;
  return { ...source, file, fileRange: fileNode.range, orderRange: entries.get("order")?.value.range ?? fileNode.range };
}

const plainSource = {
  head: null,
  order: null,
  delimiter: null,
  decimal: null,
  skipLines: 0,
  shortRows: null,
  duplicateHeaders: null,
  unitsRow: null,
} as const;
