import type { Limits } from "../limits";
import { transforms, viewProperties } from "./accepted-spec";
import { scopeAfterTransform, transformKind } from "./check-transforms";
import type { ColumnScope } from "./column-scope";
import type { JsonNode } from "./json-tree";
import type { JsonStep } from "./loose-json";
import type { Properties, Shape } from "./shape";

/** What may stand at a place of a specification, and which columns can be named there. */
export interface AcceptedPlace {
  /** The alternatives, none of them a union. Empty where nothing is accepted. */
  readonly shapes: readonly Shape[];
  readonly scope: ColumnScope;
}

/** Keys of lists of views. */
const viewLists: ReadonlySet<JsonStep | undefined> = new Set(["layer", "concat", "hconcat", "vconcat"]);

/**
 * What is accepted at the end of `path`, by the same tables as checking; a key that is not accepted leads nowhere.
 *
 * @param root the specification as far as it can be read.
 * @param scope the columns of the table that is drawn.
 * @param except where a key begins that is still being written, so that it does not tell what kind a transform is of.
 */
export function acceptedAt(root: JsonNode | null, path: readonly JsonStep[], scope: ColumnScope, limits: Limits, except = -1): AcceptedPlace {
  let shapes: readonly Shape[] = [{ is: "object", of: viewProperties(limits) }];
  let columns = scope;
  let node = root;
  for (const [index, step] of path.entries()) {
    if (isView(path, index)) columns = afterTransforms(columns, node, step === "transform" ? path[index + 1] : undefined);
    const inside = partOf(node, step);
    shapes = shapes.flatMap((shape) => partsOf(shape, step, inside, except)).flatMap(laidOpen);
    node = inside;
  }
  return { shapes, scope: columns };
}

/** The properties of the object among the alternatives; `null` where none is accepted. */
export function propertiesOf(shapes: readonly Shape[]): Properties | null {
  const found = shapes.find((shape) => shape.is === "object");
  return found === undefined ? null : found.of;
}

/** The alternatives that a shape stands for. */
export function laidOpen(shape: Shape): readonly Shape[] {
  if (shape.is === "union") return shape.of.flatMap(laidOpen);
  return shape.is === "later" ? laidOpen(shape.shape()) : [shape];
}

/** The value at a step from `node`; `null` where there is none. Of a key that is there twice, the last. */
export function partOf(node: JsonNode | null, step: JsonStep): JsonNode | null {
  if (node?.kind === "list" && typeof step === "number") return node.items[step] ?? null;
  return node?.kind === "object" ? (node.entries.findLast((entry) => entry.key === step)?.value ?? null) : null;
}

/** True where the first `length` steps of the path lead to a view. */
function isView(path: readonly JsonStep[], length: number): boolean {
  if (length === 0 || path[length - 1] === "spec") return true;
  return typeof path[length - 1] === "number" && viewLists.has(path[length - 2]);
}

/** The columns after the transforms of a view, or after those before the one of number `before`. */
function afterTransforms(scope: ColumnScope, view: JsonNode | null, before: JsonStep | undefined): ColumnScope {
  const list = partOf(view, "transform");
  const items = list?.kind === "list" ? list.items : [];
  return items.slice(0, typeof before === "number" ? before : items.length).reduce(scopeAfterTransform, scope);
}

function partsOf(shape: Shape, step: JsonStep, inside: JsonNode | null, except: number): readonly Shape[] {
  if (typeof step === "string") return shape.is === "object" && Object.hasOwn(shape.of, step) ? [shape.of[step]!] : [];
  if (shape.is === "list") return [shape.of];
  return shape.is === "transforms" ? [transformShape(inside, except)] : [];
}

/** One transform: of the kind that its keys tell, or of any. */
function transformShape(node: JsonNode | null, except: number): Shape {
  const entries = node?.kind === "object" ? node.entries.filter(({ keySpan }) => keySpan.from !== except) : [];
  const kind = transformKind(entries.map(({ key }) => key));
  return { is: "object", of: kind === undefined ? Object.fromEntries(Object.entries(transforms).map(([key, of]) => [key, of[key]!])) : transforms[kind]! };
}
