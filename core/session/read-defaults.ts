import { problem, type Fix } from "../problem";
import type { ShotColumn } from "../table/shot-columns";
import { shotColumns } from "../table/shot-columns";
import type { Measure } from "../units";
import { convert } from "../units";
import type { YamlEntry, YamlNode } from "../yaml-text";
import { headDefaults, headKinds } from "./head-defaults";
import { unitsOf, type NodeReader } from "./node-reader";
import type { CentreZone, HeadKind, PlausibleLimits, StandardMiss } from "./session-facts";
import { columnsThatAre, type ColumnKeys } from "./session-shapes";
import { usualUnitOf } from "./usual-units";

/** The `zones` of a session: the size of the centre zone, for all kinds of head or by kind. */
export function readZones(reader: NodeReader, node: YamlNode | undefined): Record<HeadKind, CentreZone> {
  const sizes = byKind(reader, node, "zones", ["width", "height"]);
  return eachKind((kind) => {
    const { centreZone } = headDefaults[kind];
    return {
      halfWidth: sizes[kind]?.width === undefined ? centreZone.halfWidth : sizes[kind].width / 2,
      halfHeight: sizes[kind]?.height === undefined ? centreZone.halfHeight : sizes[kind].height / 2,
    };
  });
}

/** The `misses` of a session: how far a standard miss is from the strike reference. */
export function readMisses(reader: NodeReader, node: YamlNode | undefined): Record<HeadKind, StandardMiss> {
  const sizes = byKind(reader, node, "misses", ["x", "y"]);
  return eachKind((kind) => ({
    x: sizes[kind]?.x ?? headDefaults[kind].standardMiss.x,
    y: sizes[kind]?.y ?? headDefaults[kind].standardMiss.y,
  }));
}

function eachKind<T>(make: (kind: HeadKind) => T): Record<HeadKind, T> {
  return { iron: make("iron"), wedge: make("wedge"), wood: make("wood") };
}

/** Lengths in mm, stated once for every kind of head or by kind: `{ width: 14 mm }`, `{ iron: { width: 14 mm } }`. */
function byKind<K extends string>(
  reader: NodeReader,
  node: YamlNode | undefined,
  what: string,
  keys: readonly K[],
): Partial<Record<HeadKind, Partial<Record<K, number>>>> {
  const read = (entries: ReadonlyMap<string, YamlEntry>): Partial<Record<K, number>> => {
    const sizes: Partial<Record<K, number>> = {};
    for (const key of keys) {
      const edge: Measure = { value: 100, unit: "mm" };
      const measure = reader.likely(entries.get(key)?.value, `${key} in ${what}`, "face distance", { ...edge, value: 0 }, edge, "mm");
      if (measure !== null) sizes[key] = Math.abs(convert(measure.value, measure.unit, "mm"));
    }
    return sizes;
  };
  const entries = reader.entries<string>(node, what, [...keys, ...headKinds]);
  const common = read(entries);
  return eachKind((kind) => ({ ...common, ...read(reader.entries<string>(entries.get(kind)?.value, `${what} of ${kind}`, keys)) }));
}

/** The `margin` of a session, by column, each in a unit of its column, and whether one of them cannot be read. */
export function readMargins(reader: NodeReader, node: YamlNode | undefined): { margins: Record<string, Measure>; marginsUnread: boolean } {
  const before = reader.problems.length;
  const margins = collect(reader, node, "margin", (column, { value }) => {
    const quantity = shotColumns[column].quantity;
    if (quantity !== null) return reader.measure(value, `a margin of ${column}`, quantity, usualUnitOf(column));
    reader.problems.push(problem("session.wrong-unit", { what: column, text: value.kind === "scalar" ? value.text : "this", units: [] }, value.range));
    return null;
  });
  return { margins, marginsUnread: reader.problems.length > before };
}

/** The `reading_error` of a session, by column: one standard deviation, in a unit of the column or as a share of the reading. */
export function readReadingErrors(reader: NodeReader, node: YamlNode | undefined): Record<string, Measure> {
  return collect(reader, node, "reading_error", (column, { value }) => {
    const quantity = shotColumns[column].quantity;
    const what = `the reading error of ${column}`;
    const accepted = [...unitsOf("share"), ...(quantity === null ? [] : unitsOf(quantity))];
    const measure = reader.measureIn(value, what, accepted);
    if (measure === null || measure.value >= 0) return measure;
    reader.problems.push(problem("session.wrong-measure", { what, text: `${measure.value} ${measure.unit}`, units: accepted }, value.range));
    return null;
  }, "monitor columns");
}

/** The `plausible` limits of a session, by column: a list of the lower and the upper one. */
export function readPlausible(reader: NodeReader, node: YamlNode | undefined): Record<string, PlausibleLimits> {
  return collect(reader, node, "plausible", (column, { value }) => {
    const what = `the limits of ${column}`;
    if (value.kind !== "list" || value.items.length !== 2) {
      reader.wrongShape(value, what, "a list of two: [LOW, HIGH]");
      return null;
    }
    const quantity = shotColumns[column].quantity;
    const [low, high] = value.items.map((item) => (quantity === null ? plainNumber(reader, item, what) : reader.measure(item, what, quantity, usualUnitOf(column))));
    if (!low || !high) return null;
    const top = "unit" in high && "unit" in low && low.unit !== null && high.unit !== null ? convert(high.value, high.unit, low.unit) : high.value;
    if (low.value < top) return { low: low.value, high: top, unit: low.unit };
    const facts = { what: column, low: `${low.value} ${low.unit ?? ""}`.trim(), high: `${high.value} ${high.unit ?? ""}`.trim() };
    reader.problems.push(problem("session.limits-crossed", facts, value.range, low.value === top ? {} : exchanged(value.items)));
    return null;
  });
}

/** The fix that puts two items in each other's place. */
function exchanged([first, second]: readonly YamlNode[]): { readonly fix?: Fix } {
  if (first?.kind !== "scalar" || second?.kind !== "scalar") return {};
  const edits = [{ range: first.range, text: second.text }, { range: second.range, text: first.text }];
  return { fix: { title: "Put the lower limit first", edits } };
}

function plainNumber(reader: NodeReader, node: YamlNode, what: string): { value: number; unit: null } | null {
  const text = reader.text(node, what);
  if (text === null) return null;
  if (/^-?\d+(?:\.\d+)?$/.test(text)) return { value: Number(text), unit: null };
  reader.problems.push(problem("session.wrong-measure", { what, text, units: [] }, node.range));
  return null;
}

function collect<T>(
  reader: NodeReader,
  node: YamlNode | undefined,
  what: string,
  read: (column: ShotColumn, entry: YamlEntry) => T | null,
  keys: ColumnKeys = "number columns",
): Record<string, T> {
  const found: [string, T][] = [];
  for (const entry of reader.map(node, what)) {
    const column = columnsThatAre[keys].find((name) => name === entry.key);
    if (column === undefined) {
      reader.unknownKey(entry, what, columnsThatAre[keys], node);
      continue;
    }
    const value = read(column, entry);
    if (value !== null) found.push([column, value]);
  }
  return Object.fromEntries(found);
}
