import { transforms } from "./accepted-spec";
import type { ChartWalk, Checked, Place } from "./check-shape";
import { checkObject, checkValue, replacing, report, whereOf } from "./check-shape";
import type { ColumnScope, TransformUse } from "./column-scope";
import { findName, scopeAfter } from "./column-scope";
import type { Grouping, RowGrowth } from "./row-growth";
import type { JsonNode } from "./json-tree";
import { refusedKeys } from "./refused-spec";
import { object } from "./shape";

type ObjectNode = JsonNode & { readonly kind: "object" };

/** Transforms of one view. */
const mostTransforms = 20;
/** Steps of a curve, where none are told. Source: the documentation of Vega's transforms kde, regression and quantile. */
const curveSteps = 200;
const quantileStep = 0.01;

/** The transforms of a view, checked, and the columns that can be named after them. */
export function checkTransforms(node: JsonNode, place: Place, walk: ChartWalk): { readonly value: unknown[]; readonly scope: ColumnScope } {
  if (node.kind !== "list") {
    report(walk, "chart.wrong-value", { given: "this", where: whereOf(place), nearest: undefined, accepted: "a list of transforms" }, node);
    return { value: [], scope: place.scope };
  }
  let { scope } = place;
  if (node.items.length > mostTransforms) {
    report(walk, "chart.beyond-limit", { count: node.items.length, what: `entries in ${whereOf(place)}`, most: mostTransforms }, node);
    return { value: [], scope };
  }
  const value: unknown[] = [];
  for (const [index, item] of node.items.entries()) {
    const inside = { path: `${place.path}[${index}]`, scope };
    const checked = checkTransform(item, inside, walk);
    if (checked === undefined || item.kind !== "object") continue;
    value.push(checked.value);
    scope = scopeAfterTransform(scope, item);
  }
  return { value, scope };
}

/** The scope after a transform as it is written, whatever is wrong with it. */
export function scopeAfterTransform(scope: ColumnScope, node: JsonNode): ColumnScope {
  return node.kind === "object" && kindOf(node) !== undefined ? scopeAfter(scope, useOf(node, scope)) : scope;
}

/** The kind of the transform that has these keys; `undefined` when none of them tells one. */
export function transformKind(keys: readonly string[]): string | undefined {
  // A window's frame and an impute's method have keys of their own, so the first key that tells a kind is the kind.
  return Object.keys(transforms).find((kind) => keys.includes(kind));
}

function kindOf(node: ObjectNode): string | undefined {
  return transformKind(node.entries.map((entry) => entry.key));
}

function checkTransform(node: JsonNode, place: Place, walk: ChartWalk): Checked {
  if (node.kind !== "object") return checkValue(node, object({}), place, walk);
  const kind = kindOf(node);
  if (kind === "fold") checkDistinct(node, place, walk);
  if (kind !== undefined) return checkObject(node, transforms[kind]!, place, walk);
  const refused = node.entries.find((entry) => Object.hasOwn(refusedKeys, entry.key));
  if (refused !== undefined)
    report(walk, "chart.refused", { what: refused.key, where: whereOf(place), because: refusedKeys[refused.key]! }, refused.keySpan);
  else checkObject(node, Object.fromEntries(Object.keys(transforms).map((each) => [each, object({})])), place, walk);
  return undefined;
}

/** Reports a column that is folded twice: each of its values would count double. */
function checkDistinct(node: ObjectNode, place: Place, walk: ChartWalk): void {
  const columns = at(node, "fold");
  if (columns?.kind !== "list") return;
  const known = new Set<string>();
  for (const [index, item] of columns.items.entries()) {
    if (item.kind !== "text") continue;
    const name = findName(place.scope, item.value) ?? item.value;
    const before = columns.items[index - 1];
    if (known.has(name) && before !== undefined) {
      const fix = replacing(walk, { from: before.to, to: item.to }, "", `Remove "${name.slice(0, 40)}"`);
      report(walk, "chart.repeated-column", { name, where: whereOf(place) }, item, fix);
    }
    known.add(name);
  }
}

function at(node: ObjectNode, key: string): JsonNode | undefined {
  return node.entries.find((entry) => entry.key === key)?.value;
}

function texts(node: JsonNode | undefined): string[] {
  if (node?.kind === "text") return [node.value];
  return node?.kind === "list" ? node.items.flatMap((item) => (item.kind === "text" ? [item.value] : [])) : [];
}

function length(node: JsonNode | undefined): number {
  return node?.kind === "list" ? node.items.length : 0;
}

function useOf(node: ObjectNode, scope: ColumnScope): TransformUse {
  const kind = kindOf(node)!;
  const named = (name: string): string => findName(scope, name) ?? name;
  const items = at(node, kind);
  const made = (items?.kind === "list" ? items.items : []).flatMap((item) => {
    if (item.kind !== "object") return [];
    const [as] = texts(at(item, "as"));
    const [of] = texts(at(item, "field"));
    const [op] = texts(at(item, "op"));
    return as === undefined ? [] : [{ as, of: of === undefined ? null : named(of), op: op ?? "" }];
  });
  const reads = ["field", "on", kind].flatMap((key) => {
    const [name] = texts(at(node, key));
    return name === undefined ? [] : [[key, named(name)] as const];
  });
  const groupby = texts(at(node, "groupby")).map(named);
  return { kind, groupby, as: texts(at(node, "as")), reads: Object.fromEntries(reads), made, growth: growthOf(kind, node, groupby, scope) };
}

function growthOf(kind: string, node: ObjectNode, names: readonly string[], scope: ColumnScope): RowGrowth | null {
  const grouping = (name: string): Grouping => (scope.columns.get(name)?.isMade === true ? null : name);
  const numberAt = (key: string): number | undefined => {
    const value = at(node, key);
    return value?.kind === "number" ? value.value : undefined;
  };
  const groupby = names.map(grouping);
  switch (kind) {
    case "fold":
      return { kind: "each row", rows: Math.max(1, length(at(node, "fold"))) };
    case "aggregate":
      return { kind: "each group", groupby, rows: 1 };
    case "density":
      return { kind: "each group", groupby, rows: Math.max(...["steps", "minsteps", "maxsteps"].map((key) => numberAt(key) ?? curveSteps)) };
    case "regression":
      return { kind: "each group", groupby, rows: curveSteps };
    case "quantile":
      return { kind: "each group", groupby, rows: Math.max(length(at(node, "probs")), Math.ceil(1 / (numberAt("step") ?? quantileStep))) };
    case "impute": {
      const [fills = ""] = texts(at(node, "impute"));
      const [key] = texts(at(node, "key"));
      const named = (name: string): string => findName(scope, name) ?? name;
      return { kind: "each key", fills: named(fills), key: key === undefined ? null : grouping(named(key)), groupby, written: length(at(node, "keyvals")) };
    }
    default:
      return null;
  }
}
