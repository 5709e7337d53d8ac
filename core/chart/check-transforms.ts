import { transforms } from "./accepted-spec";
import type { ChartWalk, Checked, Place } from "./check-shape";
import { checkObject, checkValue, report, whereOf } from "./check-shape";
import type { ColumnScope, TransformUse } from "./column-scope";
import { findName, scopeAfter } from "./column-scope";
import type { JsonNode } from "./json-tree";
import { refusedKeys } from "./refused-spec";
import { object } from "./shape";

/** The transforms of a view, checked, and the columns that can be named after them. */
export function checkTransforms(node: JsonNode, place: Place, walk: ChartWalk): { readonly value: unknown[]; readonly scope: ColumnScope } {
  if (node.kind !== "list") {
    report(walk, "chart.wrong-value", { given: "this", where: whereOf(place), nearest: undefined, accepted: "a list of transforms" }, node);
    return { value: [], scope: place.scope };
  }
  let { scope } = place;
  const value: unknown[] = [];
  for (const [index, item] of node.items.entries()) {
    const inside = { path: `${place.path}[${index}]`, scope };
    const checked = checkTransform(item, inside, walk);
    if (checked === undefined || item.kind !== "object") continue;
    value.push(checked.value);
    scope = scopeAfter(scope, useOf(item, scope));
  }
  return { value, scope };
}

function kindOf(node: JsonNode & { kind: "object" }): string | undefined {
  // A window's frame and an impute's method have keys of their own, so the first key that tells a kind is the kind.
  return Object.keys(transforms).find((kind) => node.entries.some((entry) => entry.key === kind));
}

function checkTransform(node: JsonNode, place: Place, walk: ChartWalk): Checked {
  if (node.kind !== "object") return checkValue(node, object({}), place, walk);
  const kind = kindOf(node);
  if (kind !== undefined) return checkObject(node, transforms[kind]!, place, walk);
  const refused = node.entries.find((entry) => Object.hasOwn(refusedKeys, entry.key));
  if (refused !== undefined)
    report(walk, "chart.refused", { what: refused.key, where: whereOf(place), because: refusedKeys[refused.key]! }, refused.keySpan);
  else checkObject(node, Object.fromEntries(Object.keys(transforms).map((each) => [each, object({})])), place, walk);
  return undefined;
}

function useOf(node: JsonNode & { kind: "object" }, scope: ColumnScope): TransformUse {
  const kind = kindOf(node)!;
  const texts = (of: JsonNode | undefined): string[] =>
    of?.kind === "text" ? [of.value] : of?.kind === "list" ? of.items.flatMap((item) => (item.kind === "text" ? [item.value] : [])) : [];
  const at = (entries: JsonNode & { kind: "object" }, key: string): JsonNode | undefined => entries.entries.find((entry) => entry.key === key)?.value;
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
  return { kind, groupby: texts(at(node, "groupby")).map(named), as: texts(at(node, "as")), reads: Object.fromEntries(reads), made };
}
