import { problem } from "../problem";
import type { DecimalMark, Delimiter } from "../table/delimited-text";
import type { YamlNode } from "../yaml-text";
import type { NodeReader } from "./node-reader";
import type { SourceFile } from "./session";
import { keysOf } from "./session-keys";
import { sessionShapes } from "./session-shapes";

const shapes = sessionShapes.source;

const delimiters: Readonly<Record<(typeof shapes.delimiter.choices)[number], Delimiter>> = { comma: ",", semicolon: ";", tab: "\t", bar: "|", ",": ",", ";": ";", "|": "|" };

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
    return file === null ? null : { ...plainSource, file, fileRange: node.range, headRange: node.range, orderRange: node.range };
  }
  const where = "a source";
  const entries = reader.entries(node, where, keysOf("source"));
  if (node.kind !== "map") return null;
  const fileNode = entries.get("file")?.value;
  const file = fileNode === undefined ? reader.missingKey("file", where, node) : reader.text(fileNode, "the file of a source");
  const delimiter = reader.choice(entries.get("delimiter")?.value, "delimiter", shapes.delimiter.choices);
  const decimal: DecimalMark | null = reader.choice(entries.get("decimal")?.value, "decimal mark", shapes.decimal.choices);
  const source = {
    head: reader.text(entries.get("head")?.value, "the head of a source"),
    order: reader.choice(entries.get("order")?.value, "order", shapes.order.choices),
    delimiter: delimiter === null ? null : delimiters[delimiter],
    decimal,
    skipLines: reader.whole(entries.get("skip_lines")?.value, "skip_lines", shapes.skip_lines) ?? 0,
    shortRows: reader.choice(entries.get("short_rows")?.value, "answer to short_rows", shapes.short_rows.choices),
    duplicateHeaders: reader.choice(entries.get("duplicate_headers")?.value, "answer to duplicate_headers", shapes.duplicate_headers.choices),
    unitsRow: reader.truth(entries.get("units_row")?.value, "answer to units_row"),
  };
  if (file === null || fileNode === undefined) return null;
  return { ...source, file, fileRange: fileNode.range, headRange: entries.get("head")?.value.range ?? fileNode.range, orderRange: entries.get("order")?.value.range ?? fileNode.range };
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
