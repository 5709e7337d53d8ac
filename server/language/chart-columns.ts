import { aggregateNames, takesAnyKind } from "../../core/chart/aggregates";
import type { JsonNode } from "../../core/chart/json-tree";
import type { JsonPlace } from "../../core/chart/loose-json";
import { partOf } from "../../core/chart/shape-at";
import { shotColumnFacts } from "../../core/table/shot-columns";
import { lastKey, textAt, type ChartPlace } from "./chart-place";

/** Keys of transforms whose columns are calculated with. */
const calculated: ReadonlySet<string> = new Set(["density", "regression", "loess", "quantile", "stack", "fold", "on", "impute"]);

/** Keys and channels for which a column that tells groups apart is the usual one. */
const grouping: ReadonlySet<string> = new Set(["groupby", "color", "fill", "stroke", "shape", "strokeDash", "row", "column", "facet", "detail", "test", "filter"]);

/** Columns that a chart is mostly about, the likeliest first. */
const usual = ["carry", "offline", "ball_speed"];

/** True for numbers that are measured or calculated; not for those that only count: of the shot, the stint, the pass. */
export function isReading(name: string, kind: string | null): boolean {
  return kind === "number" && shotColumnFacts(name)?.group !== "identity";
}

/**
 * The columns that can be named as a field or in a list of a transform, those of the usual kind first; only numbers
 * where they are calculated with.
 *
 * @param path the steps to the value that names a column.
 * @param holder the object or list that it stands in.
 */
export function columnsFor({ scope, root, place }: Pick<ChartPlace, "scope" | "root" | "place">, path: JsonPlace["path"], holder: JsonNode | null): readonly string[] {
  const isFitting = (kind: string | null): boolean => !wantsNumber(path, holder) || kind === "number" || kind === null;
  const fitting = [...scope.columns].filter(([, { kind }]) => isFitting(kind));
  const keys = path.filter((step) => typeof step === "string");
  const key = keys.at(-1) === "field" ? (keys.at(-2) ?? "") : (keys.at(-1) ?? "");
  const drawn = fieldsOf(root, place.replace);
  const rank = grouping.has(key) ? rankAsGroup : (name: string, kind: string | null) => rankAsNumber(name, kind, drawn);
  return fitting.map(([name, { kind }]) => ({ name, rank: rank(name, kind) })).sort((a, b) => a.rank - b.rank).map(({ name }) => name);
}

function rankAsGroup(name: string, kind: string | null): number {
  return name === "head" ? 0 : kind === "text" ? 1 : 2;
}

/** The usual readings that are not drawn yet come first, then the others; behind them numbers that only count. */
function rankAsNumber(name: string, kind: string | null, drawn: ReadonlySet<string>): number {
  const place = usual.indexOf(name);
  if (isReading(name, kind)) return place < 0 || drawn.has(name) ? usual.length : place;
  return kind === "number" ? usual.length + 1 : usual.length + 2;
}

/** The columns that a specification draws, apart from what is being written. */
function fieldsOf(node: JsonNode | null, written: JsonPlace["replace"]): ReadonlySet<string> {
  if (node === null) return new Set();
  if (node.kind === "list") return new Set(node.items.flatMap((item) => [...fieldsOf(item, written)]));
  if (node.kind !== "object") return new Set();
  return new Set(node.entries.flatMap(({ key, value }) => (key === "field" && value.kind === "text" && value.from !== written.from ? [value.value] : [...fieldsOf(value, written)])));
}

function wantsNumber(path: JsonPlace["path"], holder: JsonNode | null): boolean {
  const key = lastKey(path);
  if (calculated.has(key)) return true;
  return key === "field" && (calculates(holder) || textAt(holder, "type") === "quantitative");
}

/** True for an object that puts its field into bins, or takes a number of it that text has not. */
export function calculates(holder: JsonNode | null): boolean {
  const bin = partOf(holder, "bin");
  if (bin !== null && bin.kind !== "null" && !(bin.kind === "truth" && !bin.value)) return true;
  const operation = textAt(holder, "aggregate") ?? textAt(holder, "op");
  return operation !== null && aggregateNames.includes(operation) && !takesAnyKind(operation);
}
